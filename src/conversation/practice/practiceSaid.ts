import type { Expectation } from '../../grammar/expectation.ts';
import type { Interpreter } from '../../grammar/interpreter.ts';
import type { Moment } from '../../measure/moment.ts';
import { stepsNamed } from '../../procedures/recall.ts';
import type { Hearing } from '../../speech/ear.ts';
import { judged } from '../judged.ts';
import type { SaidEvent } from '../said.ts';

/** What was said in practice: the walk's own phrases, or a step in free words. */
export type PracticeSaid =
  | SaidEvent
  | {
      type: 'said.words';
      words: string;
      /** Chosen from the list of steps, not said or typed. */
      picked: boolean;
      at: Moment;
    };

/**
 * What an utterance means in practice.
 *
 * Where a step is to be named, all that is no command is taken for the trainee's own words: of
 * several alternatives the first that names any step. A wrong one costs nothing but a try.
 */
export function practiceJudged(
  hearing: Hearing,
  expectation: Expectation,
  interpreter: Interpreter,
  at: Moment,
): PracticeSaid {
  const event = judged(hearing, expectation, interpreter, at);
  if (expectation.state !== 'recall' || event.type !== 'said.talk') return event;
  const said = hearing.alternatives.map(({ transcript }) => transcript);
  const steps = expectation.steps.map((keywords) => ({
    keywords: keywords.map((group) => [...group]),
  }));
  const words = said.find((one) => stepsNamed(steps, one).length > 0) ?? said[0] ?? '';
  return words === '' ? event : { type: 'said.words', words, picked: false, at };
}
