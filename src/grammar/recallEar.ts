import type { EarGrammar } from './earGrammar.ts';

/** What may stand before, between and after the words that matter, where people say what they do next. */
const before = ['i', "i'll", 'then', 'now', 'next', 'and then', 'then i', 'now i', 'next i'];
const between = [
  ...'the my your a it in on to with of for that is'.split(' '),
  ...['to the', 'on the', 'in the', 'of the', 'with the', 'with a', 'it to the', 'it on the'],
];
const after = ['on', 'off', 'down', 'up', 'now', 'it'];

/** A grammar is written with these, so it can not have them said. */
const ofJsgf = new Set(['public', 'grammar', 'import']);

const wordsOf = (text: string): string[] =>
  (text.toLowerCase().match(/[a-z']+/g) ?? []).filter((word) => !ofJsgf.has(word));

/**
 * The grammar of a state with one more branch: for each step a word of each of its lists, in this order
 * or the other way round, and small words about them.
 *
 * Which step the words name is judged afterwards. A loop over all of the words is not enough: the ear
 * then hears "flat to my hands" for "wash my hands".
 *
 * @param steps - for each step its lists of words, as in {@link Expectation}
 */
export function withKeyWords(
  base: EarGrammar,
  steps: readonly (readonly (readonly string[])[])[],
): EarGrammar {
  const named = [...new Set(steps.flatMap(waysToName))];
  if (named.length === 0) return base;
  const keys = [...new Set(steps.flat(2).flatMap(wordsOf))].sort();
  const jsgf = base.jsgf.replace(
    /^(public <ear> = .*);$/m,
    (_, head: string) =>
      `${head} | [${before.join(' | ')}] <named> [${after.join(' | ')}];\n` +
      `<between> = ${between.join(' | ')};\n<named> = ${named.join(' | ')};`,
  );
  return {
    jsgf,
    words: [...new Set([...base.words, ...keys, ...smallWords])].sort(),
    phrases: [...base.phrases, ...keys.map((phrase) => ({ phrase, boost: keyBoost }))],
  };
}

/** One word of each list, with small ones between them. */
function waysToName(lists: readonly (readonly string[])[]): string[] {
  const said = lists
    .map((list) => list.map((text) => wordsOf(text).join(' ')).filter((text) => text !== ''))
    .filter((list) => list.length > 0)
    .map((list) => `(${[...new Set(list)].join(' | ')})`);
  if (said.length === 0) return [];
  return [said, said.toReversed()].map((each) => each.join(' [<between>] '));
}

const keyBoost = 2;
const smallWords = [...before, ...between, ...after].flatMap((each) => each.split(' '));
