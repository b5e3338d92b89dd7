import { firstWalk } from '../../../demo/firstWalk.ts';
import { stepOf } from '../../conversation/walkContext.ts';
import { TypedEar } from '../../speech/typed/TypedEar.ts';
import type { Voice } from '../../speech/voice.ts';
import { choiceFor } from '../choiceFor.ts';
import type { Desk } from '../Desk.svelte.ts';
import type { WalkSession } from '../WalkSession.svelte.ts';
import type { Aide } from './aide.ts';
import { givenEar } from './givenEar.ts';
import { freshMemory, nextLine, sentencesOf, type Line } from './walkScript.ts';

/** One line of the conversation as it stands on the screen. */
export interface Spoken {
  readonly id: number;
  readonly who: 'aide' | 'assistant';
  readonly words: string;
  /** Said to the resident, and not to the assistant. */
  readonly aside: boolean;
}

export interface MinutePorts {
  readonly desk: Desk;
  /** The assistant's voice. */
  readonly voice: Voice;
  /**
   * Makes every sentence ready.
   *
   * @param onprogress - how much of the voice is there, 0 to 1
   * @throws when it can not be loaded, was cancelled, or the device has no sound
   */
  openAide(
    words: readonly string[],
    onprogress: (part: number) => void,
    signal: AbortSignal,
  ): Promise<Aide>;
}

/** A step is shown for this long where it is not said aloud, ms. */
const glance = 700;
/** After this long without an effect a line is said again, ms; then it is typed. */
const patience = 7_000;
const tries = 3;
/** Words on the screen that nobody speaks: time for each, ms. */
const wordTime = 300;

/**
 * The first minute: a simulated aide walks a newcomer through one emptying.
 *
 * Her voice goes through the ear, the grammars and the walk of everybody else; nothing here moves the
 * walk. Where there is no sound, the same lines are typed. Most steps are shown and not said aloud,
 * to keep it short; what is about the number is all said.
 */
export class FirstMinute {
  phase = $state<'shut' | 'loading' | 'silent' | 'walking' | 'done' | 'stopped'>('shut');
  /** How much of the voice is there, 0 to 1. */
  loaded = $state(0);
  paused = $state(false);
  /** True where the aide's lines are typed and not spoken. */
  mute = $state(false);
  lines = $state.raw<readonly Spoken[]>([]);
  session = $state.raw<WalkSession | null>(null);
  readonly #ports: MinutePorts;
  #aide: Aide | null = null;
  #loading = new AbortController();
  #stop = new AbortController();
  /** Steps up to this one are passed over. */
  #skipTo = -1;

  constructor(ports: MinutePorts) {
    this.#ports = ports;
  }

  /** Load the aide's voice and begin. Without it, `phase` is `silent`, and the person decides. */
  async begin(): Promise<void> {
    this.phase = 'loading';
    this.#loading = new AbortController();
    try {
      const { signal } = this.#loading;
      const onprogress = (part: number) => (this.loaded = part);
      this.#aide = await this.#ports.openAide(sentencesOf(firstWalk), onprogress, signal);
    } catch {
      this.phase = 'silent';
      return;
    }
    await this.#walk();
  }

  /** Stop loading; the person may go on without the voice. */
  cancel(): void {
    this.#loading.abort();
  }

  /** Go on with words on the screen in place of the aide's voice. */
  async beginMute(): Promise<void> {
    this.mute = true;
    await this.#walk();
  }

  /** Pass over what lies before the reading, or after it. */
  skip(): void {
    const { session } = this;
    if (session === null) return;
    const { procedure, index } = session.context;
    const reading = procedure.steps.findIndex(({ kind }) => kind === 'reading');
    this.#skipTo = index < reading ? reading : procedure.steps.length;
  }

  stop(): void {
    if (this.phase === 'done' || this.phase === 'stopped') return;
    this.phase = 'stopped';
    this.#loading.abort();
    this.#stop.abort();
  }

  async #walk(): Promise<void> {
    const { desk } = this.#ports;
    const bed = desk.unit.beds.find(({ id }) => id === firstWalk.bed);
    const procedure = desk.procedures.find(({ id }) => id === firstWalk.procedure);
    const choice = bed && procedure ? choiceFor(desk.unit, bed, procedure) : null;
    if (choice === null) throw new Error('demo_broken: the first walk has no bed or no procedure');
    const own = desk.speech;
    const ear = this.#aide === null ? new TypedEar() : givenEar(this.#aide.track, desk.interpreter);
    desk.speech = { ear, reason: 'unit_wants_bundled', voice: this.#assistant() };
    try {
      await desk.begin(choice);
      this.session = desk.walk;
      this.phase = 'walking';
      if (this.session !== null) await this.#talk(this.session);
    } finally {
      desk.speech = own;
      await this.#closeAide();
      this.#end();
    }
  }

  #end(): void {
    const { session } = this;
    if (session?.view.current.status === 'active') session.abandon('the demo was stopped');
    this.#ports.desk.leave();
    if (this.phase === 'walking') this.phase = 'done';
  }

  /** The aide: whenever something may be said, she says what belongs there, until the walk is over. */
  async #talk(session: WalkSession): Promise<void> {
    const stopped = this.#stop.signal;
    let memory = freshMemory;
    let said = '';
    let count = 0;
    while (!stopped.aborted && session.view.current.status === 'active') {
      const { expectation } = session;
      const listens = session.view.current.children.ear?.getSnapshot().hasTag('micOpen') === true;
      if (this.paused || expectation === null || !listens) {
        await this.#rest(80);
        continue;
      }
      const { index } = session.context;
      const line = nextLine(firstWalk, stepOf(session.context).id, expectation, memory);
      if (line === null) {
        await this.#rest(80);
        continue;
      }
      const place = `${index} ${line.words}`;
      count = place === said ? count + 1 : 1;
      said = place;
      const hurried = index < this.#skipTo;
      if (hurried && line.to === 'resident') {
        memory = line.then;
        continue;
      }
      const before = markOf(session);
      await this.#say(line, session, hurried || count > tries);
      if (await this.#heard(session, before)) memory = line.then;
    }
  }

  async #say(line: Line, session: WalkSession, typed: boolean): Promise<void> {
    const { words, to } = line;
    this.#show('aide', words, to === 'resident');
    if (this.#aide !== null && !typed) {
      await this.#aide.say(words, this.#stop.signal);
      return;
    }
    if (!typed) await this.#rest(600 + wordTime * words.split(' ').length);
    session.type(words);
  }

  /** True when something came of what was said. */
  async #heard(session: WalkSession, before: string): Promise<boolean> {
    for (let waited = 0; waited < patience; waited += 60) {
      if (this.#stop.signal.aborted) return false;
      if (session.view.current.status !== 'active' || markOf(session) !== before) return true;
      await this.#rest(60);
    }
    return false;
  }

  #rest(ms: number): Promise<void> {
    const { signal } = this.#stop;
    return new Promise((done) => {
      const over = () => {
        clearTimeout(timer);
        signal.removeEventListener('abort', over);
        done();
      };
      const timer = setTimeout(over, ms);
      signal.addEventListener('abort', over);
    });
  }

  /** The assistant's voice, which shows what it says, and only shows what is the same every time. */
  #assistant(): Voice {
    const { voice } = this.#ports;
    return {
      name: voice.name,
      say: async (text, signal) => {
        this.#show('assistant', text, false);
        const context = this.session?.context;
        if (context !== undefined && context.index < this.#skipTo) return;
        if (context !== undefined && this.#isRoutine(context.index, context.procedure.steps)) {
          await this.#rest(glance);
          return;
        }
        const both = AbortSignal.any([signal, this.#stop.signal]);
        await voice.say(text, both);
      },
    };
  }

  /** The first two steps, those about the number and the last are said aloud. */
  #isRoutine(index: number, steps: readonly { readonly kind: string }[]): boolean {
    const reading = steps.findIndex(({ kind }) => kind === 'reading');
    return index > 1 && Math.abs(index - reading) > 1 && index < steps.length - 1;
  }

  #show(who: Spoken['who'], words: string, aside: boolean): void {
    const id = (this.lines.at(-1)?.id ?? 0) + 1;
    this.lines = [...this.lines, { id, who, words, aside }];
  }

  async #closeAide(): Promise<void> {
    const aide = this.#aide;
    this.#aide = null;
    await aide?.close();
  }
}

/** What would be another if anything had come of an utterance. */
function markOf({ view, expectation }: WalkSession): string {
  const { value, context, children } = view.current;
  const reading = children.reading?.getSnapshot();
  return JSON.stringify([
    value,
    context.index,
    context.talk,
    context.looks.length,
    reading?.value,
    reading?.context.tries,
    expectation?.state,
  ]);
}
