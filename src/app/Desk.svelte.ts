import type { Author, Fact, LedgerEvent } from '../charting/events.ts';
import { foldEntry } from '../charting/fold.ts';
import type { ReviewRules } from '../charting/reviewRules.ts';
import { judged } from '../conversation/judged.ts';
import type { WalkContext, WalkInput } from '../conversation/walkContext.ts';
import type { Interpreter } from '../grammar/interpreter.ts';
import type { Earlier } from '../measure/findings.ts';
import { grams } from '../measure/weight.ts';
import { gloveSpan } from '../procedures/gloveSpan.ts';
import { successorsIn } from '../procedures/successors.ts';
import type { Procedure } from '../procedures/schema.ts';
import type { EarWish } from '../speech/chooseEar.ts';
import type { Result, StorageFault } from '../storage/ledger.ts';
import type { ErrorCode } from '../words/errors.ts';
import { BedsAtGlance } from './BedsAtGlance.svelte.ts';
import { choiceFor, type Choice } from './choiceFor.ts';
import { ChoosingSession } from './ChoosingSession.svelte.ts';
import { defaultUnit } from './defaultUnit.ts';
import { walkRecordOf, type WalkRecord } from './keptWalk.ts';
import { ownInterpreter } from './ownInterpreter.ts';
import { withOwn } from './ownProcedures.ts';
import { pickedAt, picksAfterSetUp, readPicks, withPick, type Picks } from './picks.ts';
import { procedureOfUnit } from './procedures.ts';
import type { Tabs } from './lock/Tabs.svelte.ts';
import type { LockFault, UnitLock } from './lock/UnitLock.svelte.ts';
import { keptUnit } from './readUnit.ts';
import { RecordBook } from './record.svelte.ts';
import type { RecordFiles } from './recordFiles.ts';
import type { RecordSettings } from './recordSettings.ts';
import type { Speech } from './speech.ts';
import type { Stores } from './storage.ts';
import { StoredWalk } from './storedWalk.ts';
import { loadTemporal } from './temporal.ts';
import type { Unit } from './unit.ts';
import { warmGrammars } from './warmGrammars.ts';
import { WalkWriter } from './WalkWriter.ts';
import { WalkSession } from './WalkSession.svelte.ts';

type SpeechMaker = (wish: EarWish, interpreter: () => Interpreter) => Promise<Speech>;

/** How somebody came to this desk. */
export interface Entry {
  readonly lock: UnitLock;
  readonly tabs: Tabs;
  /** Whose PIN it was; null where the initials are chosen on the screen. */
  readonly signedIn: Author | null;
}

const day = 24 * 60 * 60_000;

/** The desk of the unit: who is signed in, what is set up, the record, and the walk on its way. */
export class Desk {
  readonly stores: Stores;
  readonly book: RecordBook;
  /** The record as files; null until somebody went where they are handed out. */
  files = $state.raw<RecordFiles | null>(null);
  unit = $state.raw<Unit>(defaultUnit);
  /** Vessels and products that were picked last at a bed. */
  picks = $state.raw<Picks>({});
  /** What was wrong with the settings that this device had kept. */
  unitError = $state.raw<ErrorCode | null>(null);
  /** What may be walked: ours and the unit's own. */
  readonly procedures = $derived(withOwn(this.unit.procedures));
  author = $state.raw<Author>({ initials: 'MK', role: 'aide' });
  walk = $state.raw<WalkSession | null>(null);
  /** Bed and procedure on their way by voice, between residents. */
  choosing = $state.raw<ChoosingSession | null>(null);
  /** When each kind was last measured at each bed. */
  readonly glance: BedsAtGlance;
  /** A walk found unfinished at the start. */
  unfinished = $state.raw<WalkRecord | null>(null);
  /** How this device hears and speaks; known once a walk was begun. */
  speech = $state.raw<Speech | null>(null);
  /** Why the record does not take what was said to it, or null. */
  #recordFault = $state.raw<ErrorCode | null>(null);
  /** Why the unfinished walk that was here can not be read, or null. */
  #walkError = $state.raw<ErrorCode | null>(null);
  readonly #speechFor: SpeechMaker;
  readonly #writer: WalkWriter;
  readonly #entry: Entry | null;
  #kept: StoredWalk | null = null;

  /** @param entry - null for a desk with no lock and no other tabs */
  constructor(stores: Stores, speechFor: SpeechMaker, entry: Entry | null = null) {
    this.stores = stores;
    this.#entry = entry;
    if (entry !== null && entry.signedIn !== null) this.author = entry.signedIn;
    this.#speechFor = speechFor;
    stores.recorder.subscribe(({ fault }) => {
      this.#recordFault = fault;
    });
    this.glance = new BedsAtGlance({
      ledger: stores.ledger,
      fold: (events) => foldEntry(events, this.rules()).entry,
      now: () => stores.clock.now().ms,
      dueAfter: () => this.unit.dueAfter,
      kinds: () => this.unit.dueKinds,
    });
    this.#writer = new WalkWriter({ ...stores, role: () => this.author.role });
    this.book = new RecordBook({
      ledger: stores.ledger,
      recorder: stores.recorder,
      rules: () => this.rules(),
      now: stores.clock.now,
    });
  }

  /** Read the settings and the walk that was left unfinished. */
  async open(): Promise<void> {
    const settings = await this.stores.states.take('settings');
    const { unit, error } = keptUnit(settings.ok ? settings.value : undefined);
    this.unitError = settings.ok ? error : settings.fault;
    this.#use(unit);
    const picks = await this.stores.states.take('picks');
    this.picks = readPicks(picks.ok ? picks.value : undefined);
    const kept = await this.stores.states.take('walk');
    this.unfinished = null;
    this.#walkError = null;
    if (!kept.ok) this.#walkError = kept.fault;
    else if (kept.value !== undefined) {
      this.unfinished = walkRecordOf(kept.value);
      if (this.unfinished === null) this.#walkError = 'walk_broken';
    }
  }

  get interpreter(): Interpreter {
    return ownInterpreter();
  }

  /** Whose PIN opened the unit; null where the initials are chosen on the screen. */
  get signedIn(): Author | null {
    return this.#entry?.signedIn ?? null;
  }

  /** Null for a desk that has none, such as an invented wing. */
  get lock(): UnitLock | null {
    return this.#entry?.lock ?? null;
  }

  get tabs(): Tabs | null {
    return this.#entry?.tabs ?? null;
  }

  /** True while another tab writes and this one shows what it writes. */
  get following(): boolean {
    return this.tabs?.state === 'follower';
  }

  /** This tab writes from now on: read what the one before did, and keep what waited here. */
  async takeUp(): Promise<void> {
    this.stores.recorder.lookAgain();
    await this.open();
    await this.stores.recorder.retry();
  }

  /** Another tab asked to write: bring what is on its way to the disk, then let the walk go. */
  async handOver(): Promise<void> {
    this.choosing?.stop();
    await this.walk?.written();
    this.leave();
    await this.#kept?.settled();
    await this.stores.recorder.retry();
  }

  /** Another tab writes from now on: a walk is gone on with there, from where it was kept. */
  yield(): void {
    this.#kept?.stop();
    this.choosing?.stop();
    this.leave();
  }

  /** What is wrong with this device's record or settings, each once. */
  get trouble(): readonly ErrorCode[] {
    // That another tab writes is told by itself, with the way to take over.
    const record = this.#recordFault === 'not_writer' ? null : this.#recordFault;
    const found = [this.unitError, record, this.#walkError];
    return found.filter((code, at) => code !== null && found.indexOf(code) === at) as ErrorCode[];
  }

  /** True while a walk is on its way; a finished one that still stands on the screen is not. */
  get walking(): boolean {
    return this.walk?.view.current.status === 'active';
  }

  /** True while the gloves are on, by the marks of the procedure: nothing may need a touch. */
  get gloved(): boolean {
    if (this.walk === null || !this.walking) return false;
    const { procedure, index } = this.walk.context;
    const span = gloveSpan(procedure.steps);
    return span !== null && span.from <= index && index <= span.to;
  }

  /** Put settings that were checked into use; they are used once the disk has them. */
  async set(unit: Unit): Promise<Result<void, StorageFault | LockFault>> {
    const { lock } = this;
    if (lock?.mayChange(this.author) === false) return { ok: false, fault: 'setup_only' };
    const fault = (await lock?.followRoster(unit.roster)) ?? null;
    if (fault !== null) return { ok: false, fault };
    const kept = await this.stores.states.put('settings', unit);
    if (!kept.ok) return kept;
    this.unitError = null;
    await this.#remember(picksAfterSetUp(this.picks, this.unit.beds, unit.beds));
    this.#use(unit);
    this.tabs?.tell('settings');
    return kept;
  }

  /** For the next walk at the bed. A disk that refuses leaves the bed as it was set up: nothing is lost. */
  async #remember(picks: Picks): Promise<void> {
    if (JSON.stringify(picks) === JSON.stringify(this.picks)) return;
    this.picks = picks;
    await this.stores.states.put('picks', picks);
  }

  #use(unit: Unit): void {
    // Another ear is chosen when it is next asked for.
    if (unit.ear !== this.unit.ear) this.speech = null;
    this.unit = unit;
    // A PIN says who it is: no other takes their place.
    if (this.signedIn !== null) return;
    const signedIn = unit.roster.find(({ initials }) => initials === this.author.initials);
    this.author = signedIn ?? unit.roster[0] ?? this.author;
  }

  /** Load what makes files of the record. */
  async openFiles(): Promise<void> {
    if (this.files !== null) return;
    const [{ unitFiles }, { runningSha256, webDigest }, temporal] = await Promise.all([
      import('./unitFiles.ts'),
      import('../storage/sha256.ts'),
      loadTemporal(),
    ]);
    this.files = unitFiles({
      ledger: this.stores.ledger,
      rules: () => this.rules(),
      plan: () => this.unit.plan,
      temporal,
      now: this.stores.clock.now,
      tools: { digest: webDigest, newHash: runningSha256 },
      breathe: () => new Promise((done) => setTimeout(done)),
    });
  }

  /** What review, sheet and handover go by. */
  get settings(): RecordSettings {
    const { beds, containers, bags, plan, lateAfter } = this.unit;
    return {
      beds: beds.map(({ label }) => label),
      containers,
      bags,
      plan,
      rules: this.rules(),
      lateAfter: lateAfter * 60_000,
    };
  }

  /** Ear and voice of this device, chosen when they are first asked for. */
  async ready(): Promise<Speech> {
    return (this.speech ??= await this.#speechFor(this.unit.ear, ownInterpreter));
  }

  /** Say a text with the voice of this device. */
  async say(text: string, signal: AbortSignal): Promise<void> {
    const { voice } = await this.ready();
    await voice.say(text, signal);
  }

  rules(): ReviewRules {
    return { ownReview: this.unit.selfReview ? [{ from: 0, until: null }] : [] };
  }

  async write(by: Author, facts: readonly Fact[]): Promise<Result<readonly LedgerEvent[]>> {
    const recorded = await this.stores.recorder.record(by, facts);
    if (recorded.kept === 'stored') return { ok: true, value: recorded.events };
    return { ok: false, fault: recorded.kept === 'memory' ? recorded.fault : 'storage_failed' };
  }

  async begin(choice: Choice): Promise<void> {
    this.choosing?.stop();
    const speech = await this.ready();
    const input = await this.#inputOf(choice);
    const { walk } = input.ids;
    const { bed, procedure } = choice;
    await this.write(this.author, [
      { type: 'walk.started', walk, procedure: procedure.id, bed: bed.label },
    ]);
    this.walk = new WalkSession({ ...this.#ports(speech), keeper: this.#keeper() }, { input });
    void this.#remember(withPick(this.picks, this.unit, choice));
    setTimeout(() => {
      warmGrammars(this.interpreter, input);
    });
  }

  /** Listen for a bed and a procedure; what is agreed to begins. */
  async listenForChoice(): Promise<void> {
    if (this.choosing !== null) return;
    const { ear, voice, judge } = this.#ports(await this.ready());
    this.choosing = new ChoosingSession({
      ear,
      voice,
      judge,
      beds: this.unit.beds.map(({ label }) => label),
      procedures: this.procedures,
      ended: (chosen) => {
        this.choosing = null;
        const bed = this.unit.beds.find(({ label }) => label === chosen?.bed);
        const procedure = this.procedures.find(({ id }) => id === chosen?.procedure);
        if (bed === undefined || procedure === undefined) return;
        const picked = pickedAt(this.picks, bed.id, procedure.id);
        const choice = choiceFor(this.unit, bed, procedure, picked);
        if (choice !== null) void this.begin(choice);
      },
    });
  }

  /** Take up the walk that was left unfinished. */
  async resume(): Promise<void> {
    const record = this.unfinished;
    if (record === null) return;
    const ports = this.#ports(await this.ready());
    this.walk = new WalkSession({ ...ports, keeper: this.#keeper() }, { record });
    setTimeout(() => {
      warmGrammars(this.interpreter, record.context);
    });
    this.unfinished = null;
  }

  /** Leave a finished walk. */
  leave(): void {
    this.walk?.close();
    this.walk = null;
  }

  /** A walk that is over and was not yet cleared away must not take the next one with it. */
  #keeper(): StoredWalk {
    this.#kept?.stop();
    return (this.#kept = new StoredWalk(this.stores.states));
  }

  #ports({ ear, voice }: Speech) {
    return {
      ear,
      voice,
      judge: (...[hearing, expectation]: Parameters<JudgeInput>) =>
        judged(hearing, expectation, this.interpreter, this.stores.clock.momentAt(hearing.at)),
      now: this.stores.clock.now,
      save: (context: WalkContext) => this.#writer.save(context),
      raise: (context: WalkContext) => this.#writer.raise(context),
    };
  }

  async #inputOf({ bed, procedure, container, bag, pad }: Choice): Promise<WalkInput> {
    const { recorder } = this.stores;
    const startedAt = this.stores.clock.now();
    return {
      ids: { walk: recorder.newId(), entry: recorder.newId(), event: recorder.newId() },
      locale: 'en-US',
      procedure: procedureOfUnit(procedure, this.unit),
      bed: { id: bed.id, label: bed.label },
      initials: this.author.initials,
      container,
      bag,
      pad: pad ?? null,
      servings: this.unit.servings,
      others: successorsIn(this.procedures, procedure).map((each) =>
        procedureOfUnit(each, this.unit),
      ),
      roster: this.unit.voiceInitials ? this.unit.roster.map(({ initials }) => initials) : null,
      ounceIn: this.unit.ounceIn,
      circumstances: {
        bag,
        earlier: await this.#earlier(bed.label, procedure, startedAt.ms),
        weight: bed.weight === null ? null : grams(Math.round(bed.weight * 1000)),
        settings: { ...this.unit.findings, rounding: this.unit.rounding },
        kind: procedure.fluid,
      },
      dysreflexiaRisk: bed.dysreflexiaRisk,
      nurse: this.unit.nurse,
      startedAt,
    };
  }

  /** The bed's measured amounts of this kind in the last day, for rates and likely doubles. */
  async #earlier(bed: string, { fluid }: Procedure, ms: number): Promise<Earlier[]> {
    const span = { from: ms - day, to: ms + 60_000 };
    const found = await this.stores.ledger.groups({ kind: 'entry', span, bed });
    if (!found.ok) return [];
    return found.value.flatMap((events) => {
      const { entry } = foldEntry(events, this.rules());
      if (entry?.kind !== fluid || entry.status === 'entered-in-error') return [];
      const { amount, readAt } = entry;
      return amount?.method === 'measured' && readAt ? [{ mL: amount.mL, at: readAt.ms }] : [];
    });
  }
}

type JudgeInput = (
  hearing: Parameters<typeof judged>[0],
  expectation: Parameters<typeof judged>[1],
) => void;
