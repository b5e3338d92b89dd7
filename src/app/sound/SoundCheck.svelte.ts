import { assertEvent, createActor, raise, type ActorRefFrom } from 'xstate';
import { judged } from '../../conversation/judged.ts';
import { soundCheckMachine } from '../../conversation/soundCheckMachine.ts';
import type { Interpreter } from '../../grammar/interpreter.ts';
import { ActorView } from '../ActorView.svelte.ts';
import { momentAt } from '../clock.ts';
import { earOver, sayOver, type WalkPorts } from '../walkPorts.ts';

interface CheckPorts extends Pick<WalkPorts, 'ear' | 'voice'> {
  readonly interpreter: Interpreter;
}

/** One sound check on the screen: the running machine, its caption and its level. */
export class SoundCheck {
  readonly view: ActorView<ActorRefFrom<typeof soundCheckMachine>>;
  caption = $state('');
  level = $state(0);

  /** @param ask - what is said first; it names the test word */
  constructor({ ear, voice, interpreter }: CheckPorts, ask: string) {
    const caption = (text: string) => {
      this.caption = text;
    };
    const level = (value: number) => {
      this.level = value;
      this.view.ref.send({ type: 'sound.level', level: value });
    };
    const machine = soundCheckMachine.provide({
      actions: {
        interpret: raise(({ event }) => {
          assertEvent(event, 'ear.heard');
          const { hearing, expectation } = event;
          return judged(hearing, expectation, interpreter, momentAt(hearing.at));
        }),
      },
      actors: { say: sayOver({ voice, caption }), ear: earOver({ ear, level }) },
    });
    const actor = createActor(machine, { input: { ask } });
    this.view = new ActorView(actor);
    actor.start();
  }

  again(): void {
    this.view.ref.send({ type: 'check.again' });
  }

  stop(): void {
    this.view.ref.stop();
  }
}
