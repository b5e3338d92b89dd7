import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Expansion, Rule } from '../jsgf/grammar.ts';
import { compileRules } from './compileRules.ts';
import { Matcher } from './Matcher.ts';

const line = 1;
const letters = ['x', 'y', 'z'];

/** Small expansions over three words and one inner rule, none of which repeats what may be empty. */
const expansions = fc.letrec<{ expansion: Expansion; solid: Expansion }>((tie) => ({
  solid: fc.oneof(
    fc.constantFrom(...letters).map((word): Expansion => ({ type: 'word', word, line })),
    fc.constant<Expansion>({ type: 'rule', name: 't.inner', line }),
  ),
  expansion: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    tie('solid'),
    fc
      .array(tie('expansion'), { minLength: 1, maxLength: 3 })
      .map((parts): Expansion => ({ type: 'sequence', parts })),
    fc.array(tie('expansion'), { minLength: 1, maxLength: 3 }).map((bodies): Expansion => ({
      type: 'choice',
      options: bodies.map((body) => ({ weight: 1, body })),
    })),
    tie('expansion').map((body): Expansion => ({ type: 'optional', body })),
    fc
      .record({ body: tie('solid'), least: fc.constantFrom<0 | 1>(0, 1) })
      .map(({ body, least }): Expansion => ({ type: 'repeat', body, least })),
  ),
}));

const inner: Expansion = {
  type: 'choice',
  options: [
    { weight: 1, body: { type: 'word', word: 'x', line } },
    {
      weight: 1,
      body: {
        type: 'sequence',
        parts: [
          { type: 'word', word: 'y', line },
          { type: 'word', word: 'z', line },
        ],
      },
    },
  ],
};

/** The plainest reading of JSGF there is: every place an expansion can end. */
function endsOf(body: Expansion, words: readonly string[], from: number): Set<number> {
  switch (body.type) {
    case 'word':
      return new Set(words[from] === body.word ? [from + 1] : []);
    case 'rule':
      return endsOf(inner, words, from);
    case 'tag':
      return new Set([from]);
    case 'sequence':
      return body.parts.reduce(
        (starts, part) => new Set([...starts].flatMap((at) => [...endsOf(part, words, at)])),
        new Set([from]),
      );
    case 'choice':
      return new Set(body.options.flatMap((option) => [...endsOf(option.body, words, from)]));
    case 'optional':
      return new Set([from, ...endsOf(body.body, words, from)]);
    case 'repeat': {
      const found = new Set(body.least === 0 ? [from] : []);
      const open = [from];
      for (let at = open.pop(); at !== undefined; at = open.pop())
        for (const end of endsOf(body.body, words, at))
          if (!found.has(end)) {
            found.add(end);
            open.push(end);
          }
      return found;
    }
  }
}

describe('When any grammar meets any words', () => {
  it('takes exactly what the plainest reading takes', () => {
    const utterances = fc.array(fc.constantFrom(...letters), { maxLength: 6 });
    fc.assert(
      fc.property(expansions.expansion, utterances, (body, words) => {
        const rules = new Map<string, Rule>(
          Object.entries({ 't.outer': body, 't.inner': inner }).map(([name, each]) => [
            name,
            { name, isPublic: true, body: each, file: 't.gram', line },
          ]),
        );
        const compiled = compileRules(rules, new Map(), 1);
        const ids = words.map((word) => compiled.words.get(word) ?? 0);
        const matcher = new Matcher(compiled);
        const values = matcher.whole('t.outer', { ids, values: ids.map(() => undefined) });
        expect(values.length > 0).toBe(endsOf(body, words, 0).has(words.length));
      }),
      { numRuns: 400 },
    );
  });
});
