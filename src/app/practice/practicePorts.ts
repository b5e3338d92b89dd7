import { assertEvent, fromPromise, raise } from 'xstate';
import { drillMachine } from '../../conversation/practice/drillMachine.ts';
import { guidedMachine } from '../../conversation/practice/guidedMachine.ts';
import { practiceMachine } from '../../conversation/practice/practiceMachine.ts';
import type { PracticeSaid } from '../../conversation/practice/practiceSaid.ts';
import { recallMachine } from '../../conversation/practice/recallMachine.ts';
import type { Expectation } from '../../grammar/expectation.ts';
import type { PracticeAttempt } from '../../procedures/practice.ts';
import type { Hearing } from '../../speech/ear.ts';
import { earOver, sayOver, type WalkPorts } from '../walkPorts.ts';

/** What practice needs of the world. It is given no recorder and no ledger. */
export interface PracticePorts extends Pick<WalkPorts, 'ear' | 'voice' | 'caption' | 'level'> {
  judge(hearing: Hearing, expectation: Expectation): PracticeSaid;
  /** Keep an attempt beside the record. Rejects when the device refuses. */
  keep(attempt: PracticeAttempt): Promise<void>;
}

/** Practice with its effects in place. */
export function practiceOver(ports: PracticePorts) {
  const say = sayOver(ports);
  return practiceMachine.provide({
    actions: {
      interpret: raise(({ event }) => {
        assertEvent(event, 'ear.heard');
        return ports.judge(event.hearing, event.expectation);
      }),
    },
    actors: {
      ear: earOver(ports),
      guided: guidedMachine.provide({ actors: { say } }),
      recall: recallMachine.provide({ actors: { say } }),
      drill: drillMachine.provide({ actors: { say } }),
      keep: fromPromise<void, { attempt: PracticeAttempt }>(({ input }) =>
        ports.keep(input.attempt),
      ),
    },
  });
}
