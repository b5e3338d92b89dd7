import { choiceFor, type Choice } from '../../../src/app/choiceFor.ts';
import { defaultUnit } from '../../../src/app/defaultUnit.ts';
import { Desk } from '../../../src/app/Desk.svelte.ts';
import { openStores, type Stores } from '../../../src/app/storage.ts';
import type { WalkSession } from '../../../src/app/WalkSession.svelte.ts';
import type { EventOf, LedgerEvent } from '../../../src/charting/events.ts';
import { ChainCheck } from '../../../src/charting/chain.ts';
import { eventsOf } from '../../../src/storage/backup.ts';
import { webDigest } from '../../../src/storage/sha256.ts';
import { plainCipher } from '../../../src/storage/cipher.ts';
import type { Random } from '../../bench/numbers/random.ts';
import { disk } from './disk.ts';
import { Mouth } from './mouth.ts';
import { pause } from './timers.ts';
import { drinks, lineOf, talkOf } from './words.ts';

/** What was done to the walks, by name. */
export type Counts = Record<string, number>;

/** What the record holds in the end. */
export interface Audit {
  readonly events: number;
  readonly chainFaults: number;
}

interface Found {
  readonly drafts: EventOf<'entry.drafted'>[];
  readonly raised: string[];
}

const mostTurns = 600;

/**
 * An aide whose day goes wrong in every way, and who remembers what was agreed to.
 *
 * Each promise that does not hold is a broken one, by name; nothing is thrown for it.
 */
export class Walker {
  readonly counts: Counts = {};
  readonly broken: string[] = [];
  readonly #done = new Map<string, { entry: string; mL: number; alarms: readonly string[] }>();
  readonly #random: Random;
  readonly #place: string;
  #mouth = new Mouth();
  #stores!: Stores;
  #desk!: Desk;
  /** The volume that was said last and may be agreed to. */
  #said: number | null = null;
  #turn = '';

  constructor(random: Random, place: string) {
    this.#random = random;
    this.#place = place;
  }

  async open(): Promise<void> {
    this.#mouth = new Mouth();
    this.#stores = await openStores(this.#place, plainCipher, () => ({ ownReview: [] }));
    const { ear, voice } = this.#mouth;
    this.#desk = new Desk(this.#stores, () =>
      Promise.resolve({ ear, voice, reason: 'bundled_ready' as never }),
    );
    await this.#desk.open();
  }

  get stores(): Stores {
    return this.#stores;
  }

  /** One walk from its choice to its entry. */
  async walk(): Promise<void> {
    this.#said = null;
    const choice = this.#choice();
    await this.#desk.begin(choice);
    const { ids } = this.#session.context;
    for (let turn = 0; this.#walking && turn < mostTurns; turn++) await this.#takeTurn();
    disk.empty();
    if (this.#walking) this.#break(`no end after ${mostTurns} turns: ${this.#state}`);
    const { settled, alerts, counted } = this.#session.context;
    const told = (settled?.findings ?? []).filter(({ severity }) => severity === 'tell');
    this.#desk.leave();
    this.#done.set(ids.walk, {
      entry: ids.entry,
      mL: counted === null ? (settled?.amount ?? 0) : 0,
      alarms: [...alerts, ...told].map(({ code }) => code),
    });
  }

  /** Read the whole record: each walk once in it, with what was agreed to and what was raised. */
  async audit(): Promise<Audit> {
    const { recorder, ledger } = this.#stores;
    if (recorder.state.unsaved.length > 0) await recorder.retry();
    const found = new Map<string, Found>();
    const ids = new Set<string>();
    const chains = new ChainCheck(webDigest);
    let count = 0;
    for await (const event of eventsOf(ledger)) {
      count += 1;
      ids.add(event.id);
      note(found, event);
      await chains.add(event);
    }
    for (const [walk, { entry, mL, alarms }] of this.#done) {
      const { drafts = [], raised = [] } = found.get(walk) ?? {};
      const own = drafts.filter((draft) => draft.entry === entry);
      if (own.length !== 1) this.broken.push(`${own.length} entries of one walk`);
      const total = drafts.reduce((sum, { amount }) => sum + mLOf(amount), 0);
      if (total !== mL) this.broken.push(`${total} mL in the record, ${mL} agreed to`);
      if (raised.join() !== alarms.join())
        this.broken.push(`alarms in the record: ${raised.join()}; raised: ${alarms.join()}`);
    }
    if (ids.size !== count) this.broken.push(`${count - ids.size} events came twice`);
    return { events: count, chainFaults: chains.faults.length };
  }

  #choice(): Choice {
    const bed = this.#random.pick(defaultUnit.beds);
    const choice = choiceFor(defaultUnit, bed, this.#random.pick(this.#desk.procedures));
    if (choice === null) throw new Error('nothing to walk with');
    return choice;
  }

  get #session(): WalkSession {
    if (this.#desk.walk === null) throw new Error('no walk');
    return this.#desk.walk;
  }

  get #walking(): boolean {
    return this.#desk.walking;
  }

  get #state(): string {
    return JSON.stringify(this.#session.view.current.value);
  }

  /** What no talk, hold, fault or reload may change. */
  #fixed(): string {
    const { index, settled, counted, procedure } = this.#session.context;
    return JSON.stringify([procedure.id, index, settled?.amount ?? null, counted !== null]);
  }

  async #takeTurn(): Promise<void> {
    await this.#untilReady();
    if (!this.#walking) return;
    if (disk.full && this.#random.next() < 0.3) disk.empty();
    const chance = this.#random.next();
    if (chance < 0.12) await this.#mustNotMove('talk', () => this.#mouth.say(talkOf(this.#random)));
    else if (chance < 0.15) await this.#mustNotMove('noise', () => this.#mouth.say('', 'none'));
    else if (chance < 0.19) await this.#mustNotMove('question', () => this.#mouth.say('say again'));
    else if (chance < 0.23) await this.#mustNotMove('hold', () => this.#hold());
    else if (chance < 0.27) await this.#mustNotMove('reload', () => this.#reload());
    else if (chance < 0.3) await this.#mustNotMove('ear ends', () => this.#end());
    else if (chance < 0.32) await this.#mustNotMove('ear fails', () => this.#fail());
    else if (chance < 0.34) await this.#mustNotMove('alarm', () => this.#alarm());
    else if (chance < 0.35) {
      this.#count('disk full');
      disk.fill();
    } else if (chance < 0.36) this.#mouth.mute = 2;
    else if (chance < 0.37) this.#say('back', 'go back');
    else this.#goOn();
    await pause(0);
  }

  /** What an aide says here who wants to get on. */
  #goOn(): void {
    const expectation = this.#session.expectation;
    if (expectation === null) return;
    const random = this.#random;
    switch (expectation.state) {
      case 'reading': {
        const [mL, words] = lineOf(random, expectation.container);
        this.#said = mL;
        return this.#say('volume', words);
      }
      case 'readback': {
        const chance = random.next();
        if (chance < 0.12) return this.#say('dispute', 'no');
        if (chance < 0.25) {
          const [mL, words] = lineOf(random, expectation.container);
          this.#said = mL;
          return this.#say('other volume', words);
        }
        return this.#say('agree', 'correct');
      }
      case 'weighing':
        return this.#say('weight', 'four hundred twelve grams');
      case 'tray':
        return this.#say('tray', random.next() < 0.5 ? random.pick(drinks) : "that's all");
      case 'weighed':
      case 'trayReadback':
      case 'counting':
        return this.#say('agree', random.next() < 0.15 ? 'no' : 'correct');
      case 'held':
        return this.#say('carry on', 'carry on');
      default:
        return this.#say('next', 'next');
    }
  }

  #say(what: string, words: string): void {
    this.#count(what);
    this.#turn = `${what}: ${words}`;
    const before = this.#session.context.settled?.amount ?? null;
    this.#mouth.say(words);
    const after = this.#session.context.settled?.amount ?? null;
    if (before === null && after !== null && this.#said !== null && after !== this.#said)
      this.#break(`${after} mL settled after ${this.#said} was said`);
  }

  async #mustNotMove(what: string, act: () => void | Promise<void>): Promise<void> {
    this.#count(what);
    this.#turn = what;
    const before = this.#fixed();
    await act();
    await this.#untilReady();
    if (!this.#walking) {
      this.#break('the walk ended');
      return;
    }
    // Silence may leave a number open and go on while the device was busy; nothing else may.
    if (this.#fixed() !== before && this.#session.context.parked === null)
      this.#break(`${before} became ${this.#fixed()}`);
  }

  async #hold(): Promise<void> {
    this.#mouth.say('hold on');
    await this.#untilReady();
    this.#mouth.say(talkOf(this.#random));
    await this.#untilReady();
    this.#mouth.say('carry on');
  }

  async #alarm(): Promise<void> {
    this.#mouth.say('there is blood');
    await this.#untilReady();
    this.#mouth.say('carry on');
  }

  #end(): void {
    this.#mouth.signal({ type: 'ended' });
  }

  #fail(): void {
    const fault = this.#random.pick(['microphone_lost', 'engine_failed'] as const);
    this.#mouth.signal({ type: 'fault', fault });
  }

  /** The page goes and comes back, with what its disk has. */
  async #reload(): Promise<void> {
    disk.empty();
    await this.#untilWritten();
    await this.#desk.handOver();
    // The page that goes writes nothing after that, though here its timers live on.
    this.#desk.yield();
    await this.#stores.database.close();
    await this.open();
    if (this.#desk.unfinished === null) throw new Error('reload: the walk is not on the disk');
    await this.#desk.resume();
  }

  /** Until the assistant listens, or the walk is over. A refused microphone is asked for again. */
  async #untilReady(): Promise<void> {
    for (let tries = 0; tries < 4000; tries++) {
      if (!this.#walking || (this.#session.expectation !== null && this.#session.hears)) return;
      if (this.#session.context.deaf !== null) this.#session.retryEar();
      if (tries === 200) disk.empty();
      await pause(tries < 50 ? 0 : 2);
    }
    this.#break(`not listening again: ${this.#state}`);
    throw new Error(this.broken.at(-1));
  }

  /** A reload finds what was written; the recorder's memory goes with the page. */
  async #untilWritten(): Promise<void> {
    const { recorder } = this.#stores;
    for (let tries = 0; tries < 2000; tries++) {
      if (recorder.state.unsaved.length > 0) await recorder.retry();
      else if (!this.#session.context.keepFailing) return;
      await pause(2);
    }
    throw new Error('reload: the disk does not take the walk');
  }

  #count(what: string): void {
    this.counts[what] = (this.counts[what] ?? 0) + 1;
  }

  #break(how: string): void {
    this.broken.push(`${this.#turn}: ${how}`);
  }
}

function note(found: Map<string, Found>, event: LedgerEvent): void {
  if (event.type !== 'entry.drafted' && event.type !== 'alert.raised') return;
  if (event.walk === null) return;
  const known = found.get(event.walk) ?? { drafts: [], raised: [] };
  if (event.type === 'entry.drafted') known.drafts.push(event);
  else known.raised.push(event.code);
  found.set(event.walk, known);
}

function mLOf(amount: EventOf<'entry.drafted'>['amount']): number {
  return amount !== null && 'mL' in amount ? amount.mL : 0;
}
