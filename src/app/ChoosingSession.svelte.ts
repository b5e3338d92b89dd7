import { assertEvent, createActor, raise, type ActorRefFrom } from 'xstate';
import { choosingMachine, type Choosable, type Chosen } from '../conversation/choosingMachine.ts';
import type { SaidEvent } from '../conversation/said.ts';
import type { Expectation } from '../grammar/expectation.ts';
import { ActorView } from './ActorView.svelte.ts';
import { now } from './clock.ts';
import { earOver, sayOver, type WalkPorts } from './walkPorts.ts';

export interface ChoosingOptions extends Pick<WalkPorts, 'ear' | 'voice' | 'judge'> {
  readonly beds: readonly string[];
  readonly procedures: readonly Choosable[];
  /** Bed and procedure agreed to, or null where nothing was. */
  ended(chosen: Chosen | null): void;
}

/** Choosing a bed and a procedure by voice, on the screen: its caption and what it expects. */
export class ChoosingSession {
  readonly view: ActorView<ActorRefFrom<typeof choosingMachine>>;
  caption = $state('');
  level = $state(0);
  readonly #options: ChoosingOptions;

  constructor(options: ChoosingOptions) {
    this.#options = options;
    const { ear, voice, beds, procedures } = options;
    const machine = choosingMachine.provide({
      actions: {
        interpret: raise(({ event }): SaidEvent => {
          assertEvent(event, 'ear.heard');
          return options.judge(event.hearing, event.expectation);
        }),
      },
      actors: {
        ear: earOver({ ear, level: (level) => (this.level = level) }),
        say: sayOver({ voice, caption: (text) => (this.caption = text) }),
      },
    });
    const actor = createActor(machine, { input: { locale: 'en-US', beds, procedures } });
    this.view = new ActorView(actor);
    actor.subscribe({
      complete: () => {
        options.ended(actor.getSnapshot().output ?? null);
      },
    });
    actor.start();
  }

  /** What may be said now, or null while the assistant speaks. */
  get expectation(): Expectation | null {
    const { current } = this.view;
    if (!current.hasTag('micOpen')) return null;
    return current.children.ear?.getSnapshot().context.expectation ?? null;
  }

  /** Typed words go the way of spoken ones. */
  type(words: string): void {
    const { expectation } = this;
    if (expectation === null) return;
    const alternatives = [{ transcript: words, confidence: 1 }];
    const hearing = { ear: 'typed', alternatives, fit: 'taken', at: now().ms } as const;
    this.view.ref.send(this.#options.judge(hearing, expectation));
  }

  stop(): void {
    this.view.ref.send({ type: 'choosing.stop' });
  }
}
