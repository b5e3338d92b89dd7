import type { Step } from './schema.ts';

/** What stands between the words that matter when people say what they do next. */
const fillers =
  'i i would then next now first and a an the my it them to of in on at for with is are be do will would so after';

/**
 * A JSGF grammar of the words in which a trainee may name the steps, for an ear that needs one.
 *
 * It takes any run of these words; which step they name, `stepsNamed` says.
 */
export function recallGrammar(steps: readonly Step[]): string {
  const words = new Set(
    [fillers, ...steps.flatMap(({ call, keywords }) => [call, ...keywords.flat()])].flatMap(
      (text) => text.toLowerCase().match(/[a-z]+(?:'[a-z]+)?/g) ?? [],
    ),
  );
  return [
    '#JSGF V1.0 UTF-8 en;',
    'grammar recall;',
    'import <written.*>;',
    'public <said> = <word> ([/0/ <written.comma>] <word>)*;',
    `<word> = ${[...words].sort().join(' | ')};`,
    '',
  ].join('\n');
}
