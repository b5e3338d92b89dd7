import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { errors } from '../../src/words/errors.ts';

const src = resolve(import.meta.dirname, '../../src');

/** Small letters joined by underscores are a code, and nothing else in the source is written so. */
const code = '([a-z]+(?:_[a-z0-9]+)+)';

interface Codes {
  /** Codes that stand as a value: what a fault is called where it is found. */
  readonly values: ReadonlyMap<string, string>;
  /** Codes at the head of an error that is thrown: our own bug, told to a developer. */
  readonly thrown: ReadonlySet<string>;
}

function codesOf(folder: string): Codes {
  const values = new Map<string, string>();
  const thrown = new Set<string>();
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /(?<!\.test)\.(ts|svelte)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((file) => !file.includes('node_modules') && !file.includes('/words/'));
  for (const file of files) {
    const text = readFileSync(file, 'utf8');
    for (const [, found = ''] of text.matchAll(new RegExp(`Error\\(\\s*['"\`]${code}`, 'g'))) {
      thrown.add(found);
    }
    for (const [, found = ''] of text.matchAll(new RegExp(`(?<!Error\\(\\s*)'${code}'`, 'g'))) {
      values.set(found, file.slice(src.length + 1));
    }
  }
  return { values, thrown };
}

/** Codes that nobody reads, each with what is done instead. */
const excused: Readonly<Record<string, string>> = {
  strict_object: 'a name of the schema library; it becomes unknown_key',
  min_length: 'a name of the schema library; it becomes empty',
  max_length: 'a name of the schema library; it becomes too_long',
  min_value: 'a name of the schema library; it becomes too_small',
  max_value: 'a name of the schema library; it becomes too_large',
  zone_unknown: 'the settings are checked before, and say unknown_zone',
  shifts_missing: 'the settings are checked before',
  edge_malformed: 'the settings are checked before, and say not_time',
  edge_twice: 'the settings are checked before',
  not_a_volume: 'talk that is no number; the number is asked for again',
  not_for_us: 'talk; it is shown small and nothing is done',
  no_number: 'talk that is no number; the number is asked for again',
  not_words: 'talk that is no number; the number is asked for again',
  other_unit: 'the number is asked for again in mL',
  missing_reading: 'the number is asked for again',
  above_container: 'the finding aboveFill is said',
  left_above_served: 'what is left is asked for again',
  pad_soiled: 'the pad is charted as not measured',
  pad_dry_unknown: 'the pad is charted as not measured',
  pad_wet_below_dry: 'the weight is asked for again',
  volume_not_whole: 'thrown: our own bug',
  volume_negative: 'thrown: our own bug',
  wave_empty: 'thrown: the voice made no sound; the caption stands',
  wave_not_riff: 'thrown: the voice made no sound; the caption stands',
  wave_truncated: 'thrown: the voice made no sound; the caption stands',
  wave_format: 'thrown: the voice made no sound; the caption stands',
  header_missing: 'thrown: a grammar of ours is broken',
  rule_twice: 'thrown: a grammar of ours is broken',
  rule_unknown: 'thrown: a grammar of ours is broken',
  rule_private: 'thrown: a grammar of ours is broken',
  grammar_unknown: 'thrown: a grammar of ours is broken',
  left_recursion: 'thrown: a grammar of ours is broken',
  tag_malformed: 'thrown: a grammar of ours is broken',
  pin_wrong: 'the lock screen says it in words of its own',
  pin_wait: 'the lock screen says it in words of its own',
  slot_missing: 'told as a wrong PIN, so that nobody learns who has one',
  file_missing: 'the offline notice says that files did not come',
  file_damaged: 'the offline notice says that files did not come',
};

const { values, thrown } = codesOf(src);
const worded = await keysOfWords();

/** Every name that stands over a sentence, in any file of words. */
async function keysOfWords(): Promise<ReadonlySet<string>> {
  const keys = new Set(Object.keys(errors));
  const visit = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    for (const [key, inner] of Object.entries(value)) {
      keys.add(key);
      visit(inner);
    }
  };
  const folder = join(src, 'words/en-US');
  const files = readdirSync(folder).filter((name) => /(?<!\.test)\.ts$/.test(name));
  for (const name of files) visit(await import(join(folder, name)));
  return keys;
}

describe('When the source names a fault', () => {
  test('every code that can reach a person has its words', () => {
    const without = [...values].filter(
      ([found]) => !worded.has(found) && !Object.hasOwn(excused, found),
    );
    expect(without).toEqual([]);
  });

  test('every code that is excused is still in the source, and has no words', () => {
    const stale = Object.keys(excused).filter((found) => !values.has(found) || worded.has(found));
    expect(stale).toEqual([]);
  });

  test('every entry of the catalogue is named in the source', () => {
    const unused = Object.keys(errors).filter((found) => !values.has(found) && !thrown.has(found));
    expect(unused).toEqual([]);
  });

  test('every entry has one line and what to do', () => {
    for (const [found, { title, todo }] of Object.entries(errors)) {
      expect([found, title]).toEqual([found, expect.stringMatching(/^[A-Z][^.\n]{8,90}$/)]);
      expect([found, todo]).toEqual([found, expect.stringMatching(/^[A-Z].{12,}[.]$/)]);
    }
  });
});
