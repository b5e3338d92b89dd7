import { createActor, type ActorRefFrom, type AnyActorRef } from 'xstate';
import type { drillMachine } from '../../conversation/practice/drillMachine.ts';
import type { guidedMachine } from '../../conversation/practice/guidedMachine.ts';
import type { PracticeInput } from '../../conversation/practice/plan.ts';
import type {
  practiceMachine,
  PracticeContext,
} from '../../conversation/practice/practiceMachine.ts';
import type { recallMachine } from '../../conversation/practice/recallMachine.ts';
import type { Command, Expectation } from '../../grammar/expectation.ts';
import { ActorView } from '../ActorView.svelte.ts';
import { now } from '../clock.ts';
import { deviceSettings } from '../sound/deviceSettings.svelte.ts';
import { practiceOver, type PracticePorts } from './practicePorts.ts';

type SessionPorts = Omit<PracticePorts, 'caption' | 'level'>;

/** The round under way, by its kind. */
export type RoundView =
  | { readonly mode: 'guided'; readonly view: ActorView<ActorRefFrom<typeof guidedMachine>> }
  | { readonly mode: 'recall'; readonly view: ActorView<ActorRefFrom<typeof recallMachine>> }
  | { readonly mode: 'drill'; readonly view: ActorView<ActorRefFrom<typeof drillMachine>> };

/** One round of practice on the screen: the running machine, its caption and its sound level. */
export class PracticeSession {
  readonly view: ActorView<ActorRefFrom<typeof practiceMachine>>;
  readonly input: PracticeInput;
  caption = $state('');
  level = $state(0);
  readonly #judge: SessionPorts['judge'];
  readonly #voice: SessionPorts['voice'];
  readonly #views = new WeakMap<AnyActorRef, RoundView>();

  constructor(ports: SessionPorts, input: PracticeInput) {
    this.#judge = ports.judge;
    this.#voice = ports.voice;
    this.input = input;
    const machine = practiceOver({
      ...ports,
      caption: (text) => {
        this.caption = text;
      },
      level: (level) => {
        this.level = level;
      },
    });
    this.view = new ActorView(createActor(machine, { input }));
    this.view.ref.start();
  }

  /** Whether a voice says the caption; then nothing else may read it out. */
  get isSpoken(): boolean {
    return this.#voice.name !== 'captions' && !deviceSettings.current.quiet;
  }

  get context(): PracticeContext {
    return this.view.current.context;
  }

  /** The round's own machine, or null once it is over. */
  get round(): RoundView | null {
    const { guided, recall, drill } = this.view.current.children;
    if (guided !== undefined) {
      return this.#once(guided, () => ({ mode: 'guided', view: new ActorView(guided) }));
    }
    if (recall !== undefined) {
      return this.#once(recall, () => ({ mode: 'recall', view: new ActorView(recall) }));
    }
    if (drill !== undefined) {
      return this.#once(drill, () => ({ mode: 'drill', view: new ActorView(drill) }));
    }
    return null;
  }

  /** True when the round takes this command now. */
  can(command: Command): boolean {
    const { round } = this;
    const event = { type: `said.${command}`, words: '', at: now() } as const;
    if (round === null) return this.view.current.can(event);
    return round.view.current.can(event);
  }

  /** A button says what the voice would say. */
  say(command: Command): void {
    this.view.ref.send({ type: `said.${command}`, words: '', at: now() });
  }

  /** What may be said now, or null while the assistant speaks. */
  get expectation(): Expectation | null {
    const { round } = this;
    if (round?.view.current.hasTag('micOpen') !== true) return null;
    return this.view.current.children.ear?.getSnapshot().context.expectation ?? null;
  }

  /** Typed words go the way of spoken ones. */
  type(words: string): void {
    const { expectation } = this;
    if (expectation === null) return;
    const hearing = {
      ear: 'typed',
      alternatives: [{ transcript: words, confidence: 1 }],
      fit: 'taken',
      at: now().ms,
    } as const;
    this.view.ref.send(this.#judge(hearing, expectation));
  }

  /** Choose a step from the list, for those who can neither say nor type it. */
  pick(call: string): void {
    this.view.ref.send({ type: 'said.words', words: call, picked: true, at: now() });
  }

  retryEar(): void {
    this.view.ref.getSnapshot().children.ear?.send({ type: 'ear.retry' });
  }

  /** The page goes away: ear and voice stop, and what was not finished is dropped. */
  close(): void {
    this.view.ref.stop();
  }

  #once(ref: AnyActorRef, make: () => RoundView): RoundView {
    const known = this.#views.get(ref);
    if (known !== undefined) return known;
    const made = make();
    this.#views.set(ref, made);
    return made;
  }
}
