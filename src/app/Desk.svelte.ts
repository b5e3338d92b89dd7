import * as v from 'valibot';
import type { Author, Fact, LedgerEvent } from '../charting/events.ts';
import { foldEntry } from '../charting/fold.ts';
import type { ReviewRules } from '../charting/reviewRules.ts';
import { judged } from '../conversation/judged.ts';
import type { WalkContext, WalkInput } from '../conversation/walkContext.ts';
import { createInterpreter, type Interpreter } from '../grammar/interpreter.ts';
import { defaultFindingSettings, type Earlier } from '../measure/findings.ts';
import type { Moment } from '../measure/moment.ts';
import { grams } from '../measure/weight.ts';
import type { Bag, Container } from '../measure/vessel.ts';
import type { Procedure } from '../procedures/schema.ts';
import type { EarWish } from '../speech/chooseEar.ts';
import type { Result } from '../storage/ledger.ts';
import { momentAt, now } from './clock.ts';
import { defaultUnit } from './defaultUnit.ts';
import { alertFacts, entryFacts } from './entryFacts.ts';
import { grammarFiles } from './grammarFiles.ts';
import type { WalkKeeper, WalkRecord } from './keptWalk.ts';
import { procedureOfUnit } from './procedures.ts';
import { RecordBook } from './record.svelte.ts';
import type { RecordFiles } from './recordFiles.ts';
import type { RecordSettings } from './recordSettings.ts';
import type { Speech } from './speech.ts';
import type { Stores } from './storage.ts';
import { unitSchema, type Bed, type Unit } from './unit.ts';
import { WalkSession } from './WalkSession.svelte.ts';

export interface Choice {
  readonly bed: Bed;
  readonly procedure: Procedure;
  readonly container: Container | null;
  readonly bag: Bag | null;
}

type SpeechMaker = (wish: EarWish, interpreter: Interpreter) => Promise<Speech>;

const day = 24 * 60 * 60_000;

/** The desk of the unit: who is signed in, what is set up, the record, and the walk on its way. */
export class Desk {
  readonly stores: Stores;
  readonly interpreter = createInterpreter(grammarFiles);
  readonly book: RecordBook;
  /** The record as files; null until they can be made. */
  readonly files: RecordFiles | null = null;
  unit = $state.raw<Unit>(defaultUnit);
  author = $state.raw<Author>({ initials: 'MK', role: 'aide' });
  walk = $state.raw<WalkSession | null>(null);
  /** A walk found unfinished at the start. */
  unfinished = $state.raw<WalkRecord | null>(null);
  /** How this device hears and speaks; known once a walk was begun. */
  speech = $state.raw<Speech | null>(null);
  readonly #speechFor: SpeechMaker;

  constructor(stores: Stores, speechFor: SpeechMaker) {
    this.stores = stores;
    this.#speechFor = speechFor;
    this.book = new RecordBook({
      ledger: stores.ledger,
      recorder: stores.recorder,
      rules: () => this.rules(),
      now,
    });
  }

  /** Read the settings and the walk that was left unfinished. */
  async open(): Promise<void> {
    const settings = await this.stores.states.take('settings');
    const unit = v.safeParse(unitSchema, settings.ok ? settings.value : undefined);
    if (unit.success) this.unit = unit.output;
    const kept = await this.stores.states.take('walk');
    if (kept.ok && isWalkRecord(kept.value)) this.unfinished = kept.value;
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
    return (this.speech ??= await this.#speechFor(this.#wish(), this.interpreter));
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
    const speech = await this.ready();
    const input = await this.#inputOf(choice);
    const { walk } = input.ids;
    const { bed, procedure } = choice;
    await this.write(this.author, [
      { type: 'walk.started', walk, procedure: procedure.id, bed: bed.label },
    ]);
    this.walk = new WalkSession(this.#ports(speech), { input });
  }

  /** Take up the walk that was left unfinished. */
  async resume(): Promise<void> {
    const record = this.unfinished;
    if (record === null) return;
    this.walk = new WalkSession(this.#ports(await this.ready()), { record });
    this.unfinished = null;
  }

  /** Leave a finished walk. */
  leave(): void {
    this.walk?.close();
    this.walk = null;
  }

  #wish(): EarWish {
    return this.unit.remoteEar ? 'remote' : 'auto';
  }

  #ports({ ear, voice }: Speech) {
    return {
      ear,
      voice,
      judge: (...[hearing, expectation]: Parameters<JudgeInput>) =>
        judged(hearing, expectation, this.interpreter, momentAt(hearing.at)),
      save: (context: WalkContext) => this.#save(context),
      raise: (context: WalkContext) => this.#raise(context),
      keeper: this.#keeper(),
    };
  }

  #keeper(): WalkKeeper {
    const { states } = this.stores;
    return {
      put: async (record) => {
        // A plain copy: the machine's snapshot may hold what a structured clone refuses.
        const kept = await states.put('walk', record);
        if (!kept.ok) throw new Error(kept.fault);
      },
      clear: async () => {
        const dropped = await states.drop('walk');
        if (!dropped.ok) throw new Error(dropped.fault);
      },
    };
  }

  /** Saving twice writes once: a page that died between the record and the walk finds its entry. */
  async #save(context: WalkContext): Promise<Moment> {
    const { ledger, recorder } = this.stores;
    const known = await ledger.group(context.ids.entry);
    const drafted = known.ok ? known.value[0] : undefined;
    if (drafted !== undefined) return drafted.at;
    const by: Author = { initials: context.initials, role: this.author.role };
    const written = await this.write(
      by,
      entryFacts(context, () => recorder.newId()),
    );
    if (!written.ok) throw new Error(written.fault);
    return written.value[0]?.at ?? now();
  }

  async #raise(context: WalkContext): Promise<void> {
    const facts = alertFacts(context, () => this.stores.recorder.newId());
    if (facts.length === 0) return;
    const written = await this.write({ initials: context.initials, role: this.author.role }, facts);
    if (!written.ok) throw new Error(written.fault);
  }

  async #inputOf({ bed, procedure, container, bag }: Choice): Promise<WalkInput> {
    const { recorder } = this.stores;
    const startedAt = now();
    return {
      ids: { walk: recorder.newId(), entry: recorder.newId(), event: recorder.newId() },
      locale: 'en-US',
      procedure: procedureOfUnit(procedure, this.unit),
      bed: { id: bed.id, label: bed.label },
      initials: this.author.initials,
      container,
      bag,
      ounceIn: this.unit.ounceIn,
      circumstances: {
        bag,
        earlier: await this.#earlier(bed.label, procedure, startedAt.ms),
        weight: bed.weight === null ? null : grams(bed.weight * 1000),
        settings: { ...defaultFindingSettings, rounding: this.unit.rounding },
        kind: procedure.fluid,
      },
      dysreflexiaRisk: bed.dysreflexiaRisk,
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

function isWalkRecord(value: unknown): value is WalkRecord {
  return typeof value === 'object' && value !== null && 'v' in value && value.v === 1;
}
