import type { EarGrammar } from './earGrammar.ts';

/** What stands between the words that matter when people say what they do next. */
const between = "i i'll then now next and the my your a it in on to with of for that is".split(' ');

/** A grammar is written with these, so it can not have them said. */
const ofJsgf = new Set(['public', 'grammar', 'import']);

const wordsOf = (text: string): string[] =>
  (text.toLowerCase().match(/[a-z']+/g) ?? []).filter((word) => !ofJsgf.has(word));

/**
 * The grammar of a state with one more branch: any run of the words in which the steps may be named.
 *
 * Which step a run names is judged afterwards, on the words. A grammar of whole sentences would take
 * more time to search than the sentence to say.
 *
 * @param steps - for each step its lists of words, as in {@link Expectation}
 */
export function withKeyWords(
  base: EarGrammar,
  steps: readonly (readonly (readonly string[])[])[],
): EarGrammar {
  const keys = [...new Set(steps.flat(2).flatMap(wordsOf))].sort();
  if (keys.length === 0) return base;
  const words = [...new Set([...keys, ...between])].sort();
  const jsgf = base.jsgf.replace(
    /^(public <ear> = .*);$/m,
    (_, head: string) => `${head} | <named>+;\n<named> = ${words.join(' | ')};`,
  );
  return {
    jsgf,
    words: [...new Set([...base.words, ...words])].sort(),
    phrases: [...base.phrases, ...keys.map((phrase) => ({ phrase, boost: keyBoost }))],
  };
}

const keyBoost = 2;
