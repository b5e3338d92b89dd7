import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { Fields, Value } from '../../src/grammar/match/compileTag.ts';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { Reader } from '../../src/grammar/Reader.ts';
import { grammarFiles, grammarLocales } from '../support/grammarFiles.ts';

/** The shape of a `*.sentences.yaml`. A value that is a mapping names parts; others may be there. */
interface Sentences {
  readonly grammar: string;
  readonly rules: readonly {
    readonly rule: string;
    readonly takes: readonly { readonly value: Value; readonly sentences: readonly string[] }[];
    readonly doubts?: readonly {
      readonly among: readonly number[];
      readonly sentences: readonly string[];
    }[];
    readonly refuses: readonly { readonly sentence: string; readonly because?: string }[];
  }[];
}

const locales = join(import.meta.dirname, '..', '..', 'grammars');
const given = { ounce: 30 };

describe.each(grammarLocales())('When the locale is %s', (locale) => {
  const files = grammarFiles(locale);
  const reader = new Reader(files);
  const interpreter = createInterpreter(files);
  const folder = join(locales, locale);

  it('gives every grammar its sentences', () => {
    const sentences = readdirSync(folder).filter((name) => name.endsWith('.sentences.yaml'));
    expect(sentences).toEqual(
      Object.keys(files).map((name) => name.replace(/\.gram$/, '.sentences.yaml')),
    );
  });

  const read = (rule: string, said: string): readonly Value[] => {
    const heard = reader.words(said);
    if (typeof heard === 'string' || heard.ids.includes(0)) return [];
    const values = reader.read(rule, heard, given);
    return values === 'tangled' ? [] : values;
  };
  /** A grammar may also take a sentence to say what else it is. */
  const isRefusal = (value: Value) => (value as Fields | undefined)?.refused !== undefined;

  describe.each(Object.keys(files))('%s', (name) => {
    const stem = name.replace(/\.gram$/, '');
    const file = parse(readFileSync(join(folder, `${stem}.sentences.yaml`), 'utf8')) as Sentences;

    it('names public rules of its grammar, each once', () => {
      expect(file.grammar).toBe(name);
      const rules = file.rules.map(({ rule }) => rule);
      expect(rules).toEqual([...new Set(rules)]);
      for (const rule of rules) expect(reader.rules.get(`${stem}.${rule}`)?.isPublic).toBe(true);
    });

    describe.each(file.rules)('<$rule>', ({ rule, takes, doubts = [], refuses }) => {
      const all = [
        ...takes.flatMap(({ sentences }) => sentences),
        ...doubts.flatMap(({ sentences }) => sentences),
        ...refuses.map(({ sentence }) => sentence),
      ];

      it('says no sentence twice', () => {
        expect(all).toEqual([...new Set(all)]);
      });

      it.each(takes.flatMap(({ value, sentences }) => sentences.map((said) => [said, value])))(
        'takes "%s" as %j',
        (said, value) => {
          const values = read(`${stem}.${rule}`, said as string);
          const isMapping = typeof value === 'object' && !Array.isArray(value);
          expect(values).toContainEqual(
            isMapping ? expect.objectContaining(value as Fields) : value,
          );
        },
      );

      it.each(doubts.flatMap(({ among, sentences }) => sentences.map((said) => [said, among])))(
        'asks about "%s": %j',
        (said, among) => {
          const reading = interpreter.volume(String(said), { ounceIn: 30 });
          expect(reading.mL).toBeNull();
          expect(reading.ambiguous).toEqual(among);
        },
      );

      it.each(refuses)('refuses "$sentence": $because', ({ sentence, because }) => {
        const values = read(`${stem}.${rule}`, sentence);
        if (!values.some(isRefusal)) expect(values).toEqual([]);
        const where = `${locale}/${stem}.sentences.yaml`;
        expect(because ?? '', `${where}: say under "because" why`).toMatch(/\w{3}/);
      });
    });
  });
});
