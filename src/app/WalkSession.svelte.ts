import { createActor, type ActorRefFrom, type Snapshot } from 'xstate';
import { saidCommand } from '../conversation/judged.ts';
import type { SaidEvent } from '../conversation/said.ts';
import type { WalkContext, WalkInput } from '../conversation/walkContext.ts';
import type { walkMachine, WalkEvent } from '../conversation/walkMachine.ts';
import type { Command, Expectation } from '../grammar/expectation.ts';
import type { Moment } from '../measure/moment.ts';
import { ActorView } from './ActorView.svelte.ts';
import { KeptWalk, type WalkKeeper, type WalkRecord } from './keptWalk.ts';
import { deviceSettings } from './sound/deviceSettings.svelte.ts';
import { stayAwake } from './stayAwake.ts';
import { walkOver, type WalkPorts } from './walkPorts.ts';

type WalkRef = ActorRefFrom<typeof walkMachine>;
type SessionPorts = Omit<WalkPorts, 'caption' | 'level'> & {
  readonly now: () => Moment;
  readonly keeper: WalkKeeper;
  /** Keeps the screen on until what it returns is called; the page's own where none is given. */
  readonly stayAwake?: () => () => void;
};

/**
 * One walk on the screen: the running machine, its caption and its sound level.
 *
 * Every transition is handed to the keeper before the next can come; what it refuses is told to the
 * walk, which says so aloud and on the screen.
 */
export class WalkSession {
  readonly view: ActorView<WalkRef>;
  caption = $state('');
  level = $state(0);
  readonly #ports: SessionPorts;
  readonly #kept: KeptWalk;
  readonly #letSleep: () => void;

  constructor(ports: SessionPorts, from: { input: WalkInput } | { record: WalkRecord }) {
    this.#ports = ports;
    const machine = walkOver({
      ...ports,
      caption: (text) => {
        this.caption = text;
      },
      level: (level) => {
        this.level = level;
      },
    });
    const record = 'record' in from ? from.record : null;
    const input = 'input' in from ? from.input : inputOf(from.record.context);
    const actor = createActor(machine, { input, ...restored(machine, record) });
    this.view = new ActorView(actor);
    const tell = (type: 'keep.failed' | 'keep.mended') => {
      actor.send({ type });
    };
    this.#kept = new KeptWalk(ports.keeper, tell, machineVersion);
    this.#letSleep = (ports.stayAwake ?? stayAwake)();
    actor.subscribe(() => {
      this.#keep();
    });
    actor.start();
    this.#keep();
  }

  /** Whether a voice says the caption. Then nothing else may read it out: the ear would hear both. */
  get isSpoken(): boolean {
    return this.#ports.voice.name !== 'captions' && !deviceSettings.current.quiet;
  }

  get context(): WalkContext {
    return this.view.current.context;
  }

  can(event: WalkEvent): boolean {
    return this.view.current.can(event);
  }

  /** A button says what the voice would say. */
  say(command: Command): void {
    this.view.ref.send(this.event(command));
  }

  event(command: Command): SaidEvent {
    return saidCommand(command, '', this.#ports.now());
  }

  /** What may be said now, or null while the assistant speaks. */
  get expectation(): Expectation | null {
    const snapshot = this.view.current;
    const { reading, tray, signing } = snapshot.children;
    const open =
      snapshot.hasTag('micOpen') ||
      [reading, tray, signing].some((child) => child?.getSnapshot().hasTag('micOpen') === true);
    if (!open) return null;
    return snapshot.children.ear?.getSnapshot().context.expectation ?? null;
  }

  /** True while the ear really listens: not while it opens, nor between two tries. */
  get hears(): boolean {
    return this.view.current.children.ear?.getSnapshot().hasTag('micOpen') === true;
  }

  /** Typed words go the way of spoken ones: judged by the same grammar, read back, agreed to. */
  type(words: string): void {
    const { expectation } = this;
    if (expectation === null) return;
    const hearing = {
      ear: 'typed',
      alternatives: [{ transcript: words, confidence: 1 }],
      fit: 'taken',
      at: this.#ports.now().ms,
    } as const;
    this.view.ref.send(this.#ports.judge(hearing, expectation));
  }

  retryEar(): void {
    this.view.ref.getSnapshot().children.ear?.send({ type: 'ear.retry' });
  }

  abandon(reason: string): void {
    this.view.ref.send({ type: 'walk.abandon', reason });
  }

  /** Done when the newest state is on the disk, or was refused once more. */
  written(): Promise<void> {
    return this.#kept.written();
  }

  /** Stop without ending the walk: the page goes away, the record stays. */
  close(): void {
    this.view.ref.stop();
    this.#letSleep();
  }

  #keep(): void {
    const { ref } = this.view;
    const snapshot = ref.getSnapshot();
    if (snapshot.status === 'active') this.#kept.keep(ref.getPersistedSnapshot(), snapshot.context);
    else {
      this.#kept.clear();
      this.#letSleep();
    }
  }
}

function inputOf(context: WalkContext): WalkInput {
  const { index, settled, parked, counted, handover, reader, looks, alerts, savedAt } = context;
  const resume = { index, settled, parked, counted, handover, reader, looks, alerts, savedAt };
  return { ...context, resume };
}

/** The exact state where this version can take it up; else the walk starts from what it had reached. */
function restored(
  machine: ReturnType<typeof walkOver>,
  record: WalkRecord | null,
): { snapshot?: Snapshot<unknown> } {
  if (record?.machine !== machineVersion) return {};
  try {
    createActor(machine, { snapshot: record.snapshot, input: inputOf(record.context) });
    return { snapshot: record.snapshot };
  } catch {
    return {};
  }
}

/** Raised whenever a state of the walk or the reading is renamed or its context changes. */
export const machineVersion = 3;
