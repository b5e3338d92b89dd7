import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Reader } from '../../src/grammar/Reader.ts';
import { alertUrgencies } from '../../src/measure/alerts.ts';
import { fractions } from '../../src/measure/intake.ts';
import { looks } from '../../src/measure/looks.ts';
import { defaultServings } from '../../src/measure/servings.ts';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

const folder = join(import.meta.dirname, '..', '..', 'grammars', 'en-US');
const files = grammarFiles();
const reader = new Reader(files);

interface Sentences {
  readonly rules: readonly {
    readonly rule: string;
    readonly takes: readonly { readonly value: unknown; readonly sentences: readonly string[] }[];
    readonly refuses: readonly { readonly sentence: string }[];
  }[];
}

const sentencesOf = (name: string): Sentences =>
  parse(readFileSync(join(folder, `${name}.sentences.yaml`), 'utf8')) as Sentences;
const valuesOf = (name: string): unknown[] =>
  sentencesOf(name).rules.flatMap(({ takes }) => takes.map(({ value }) => value));
const read = (rule: string, said: string): unknown => {
  const heard = reader.words(said);
  return typeof heard === 'string' || heard.ids.includes(0) ? [] : reader.read(rule, heard);
};

/** Texts in the tags of a grammar; `{'leak'}` is the code of what a sentence reports. */
const codesInTags = (name: string): string[] =>
  [...(files[`${name}.gram`] ?? '').matchAll(/\{'(\w+)'\}/g)].map(([, code]) => code!);

describe('When a grammar gives codes', () => {
  // A tag without a sentence of its own is said all the same.
  it.each([
    ['alerts', alertUrgencies],
    ['look', looks],
  ])('%s: every tag is a code of the list, and every code has its tag', (name, list) => {
    expect([...new Set(codesInTags(name))].sort()).toEqual(Object.keys(list).sort());
  });

  it('alerts: every code of the list can be said, and no other', () => {
    expect([...new Set(valuesOf('alerts'))].sort()).toEqual(Object.keys(alertUrgencies).sort());
  });

  it('look: every code of the list can be said, and no other', () => {
    expect([...new Set(valuesOf('look').flat())].sort()).toEqual(Object.keys(looks).sort());
  });

  it.each(builtIn.flatMap(({ id, spoken }) => spoken.map((name) => [name, id])))(
    'choosing: "%s" is %s',
    (name, id) => {
      expect(read('choosing.procedure', name)).toEqual([id]);
    },
  );
});

describe('When what was drunk is said', () => {
  const ids = new Set(defaultServings.map(({ item }) => item.id));
  const items = valuesOf('intake').filter((value) => typeof value === 'object') as {
    readonly serving: string;
    readonly drunk?: string;
  }[];

  it('every serving of the list can be said, and no other', () => {
    expect(new Set(items.map(({ serving }) => serving))).toEqual(ids);
  });

  it('every part has its fraction', () => {
    const parts = items.flatMap(({ drunk }) => (drunk === undefined ? [] : [drunk]));
    expect(new Set(parts)).toEqual(new Set(Object.keys(fractions)));
  });
});

describe('When a sentence could be read in two ways', () => {
  it.each(['alerts', 'look', 'initials', 'choosing', 'weight', 'intake'])(
    '%s: each sentence has its one value, and each refusal none',
    (name) => {
      for (const { rule, takes, refuses } of sentencesOf(name).rules) {
        for (const { value, sentences } of takes)
          for (const said of sentences)
            expect(read(`${name}.${rule}`, said), said).toEqual([value]);
        for (const { sentence } of refuses)
          expect(read(`${name}.${rule}`, sentence), sentence).toEqual([]);
      }
    },
  );
});
