import { foldAlert, type Alert } from '../charting/alert.ts';
import type { Entry, Refusal } from '../charting/entry.ts';
import type { Author, EntryChanges, Fact, LedgerEvent, PageViewed } from '../charting/events.ts';
import { foldEntry } from '../charting/fold.ts';
import type { ReviewRules } from '../charting/reviewRules.ts';
import { within, type Span } from '../charting/shifts.ts';
import { waitsIn } from '../charting/status.ts';
import type { Moment } from '../measure/moment.ts';
import type { Ledger, Result } from '../storage/ledger.ts';
import { lastLook } from '../storage/reader.ts';
import type { Recorded, Recorder } from '../storage/recorder.ts';
import { GroupList } from './GroupList.ts';
import { Looks } from './looks.ts';
import type { Outcome, OutcomeAct, Told } from './outcome.ts';
import { timeOf } from './standing.ts';

/** What the book works with; `app` gives the real ones, a test its own. */
export interface RecordPorts {
  readonly ledger: Ledger;
  readonly recorder: Pick<Recorder, 'record'>;
  readonly rules: () => ReviewRules;
  readonly now: () => Moment;
}

const week = 7 * 24 * 3_600_000;

interface Decided {
  readonly entry: string;
  /** The decision that undoing takes back. */
  readonly event: string;
}

/**
 * The record as the screens see it: what waits, a day, a bed; and what a person decides on it.
 *
 * It decides nothing. Each act appends facts in the name of the person who is signed in, and says
 * what the fold made of them: taken, or refused with the reason and who was first.
 */
export class RecordBook {
  readonly queue: GroupList<Entry>;
  readonly alerts: GroupList<Alert>;
  readonly #ports: RecordPorts;
  readonly #looks = new Looks();
  #outcome = $state.raw<Outcome | null>(null);
  #last = $state.raw<readonly Decided[]>([]);

  constructor(ports: RecordPorts) {
    this.#ports = ports;
    const { ledger } = ports;
    this.queue = new GroupList({
      ledger,
      query: { kind: 'entry', open: true },
      fold: (events) => this.#entryOf(events),
      fits: ({ state }) => waitsIn(state),
    });
    this.alerts = new GroupList({
      ledger,
      query: { kind: 'alert', open: true },
      fold: foldAlert,
      fits: ({ taken }) => taken === null,
    });
  }

  /** What became of the last act, or null before the first. */
  get outcome(): Outcome | null {
    return this.#outcome;
  }

  /** True while the last act of this book can be taken back. */
  get undoable(): boolean {
    return this.#last.length > 0;
  }

  now(): Moment {
    return this.#ports.now();
  }

  /** The entries of a span by time of reading, of one bed or of all, whatever their status. */
  entries(span: Span, bed?: string): GroupList<Entry> {
    return new GroupList({
      ledger: this.#ports.ledger,
      query: { kind: 'entry', span, ...(bed === undefined ? {} : { bed }) },
      fold: (events) => this.#entryOf(events),
      fits: (entry) =>
        within(span, timeOf(entry)) && (bed === undefined || (entry.bed ?? '') === bed),
    });
  }

  confirm(by: Author, entries: readonly Entry[]): Promise<Outcome> {
    return this.#decide('confirm', by, entries, ({ id, head }) => ({
      type: 'entry.confirmed',
      entry: id,
      saw: head,
    }));
  }

  amend(by: Author, entry: Entry, changes: EntryChanges, reason: string): Promise<Outcome> {
    return this.#decide('amend', by, [entry], ({ id, head }) => ({
      type: 'entry.amended',
      entry: id,
      saw: head,
      changes,
      reason,
    }));
  }

  strike(by: Author, entry: Entry, reason: string): Promise<Outcome> {
    return this.#decide('strike', by, [entry], ({ id, head }) => ({
      type: 'entry.struck',
      entry: id,
      saw: head,
      reason,
    }));
  }

  /** Take back what stands last in an entry. */
  undo(by: Author, entry: Entry): Promise<Outcome> {
    return this.#undo(by, [{ entry: entry.id, event: entry.head }]);
  }

  /** Take back the last act of this book: all of them, where several were confirmed at once. */
  undoLast(by: Author): Promise<Outcome> {
    return this.#undo(by, this.#last);
  }

  async takeAlert(by: Author, alert: Alert, note: string): Promise<Outcome> {
    const written = await this.#record(by, [{ type: 'alert.taken', alert: alert.id, note }]);
    if (written.kept !== 'stored') return this.#tell(unfinished('take', written));
    const ids = written.events.map(({ id }) => id);
    const events = await this.#ports.ledger.group(alert.id);
    const folded = events.ok ? foldAlert(events.value) : null;
    const refused = folded === null ? [] : toldOf(folded, folded.refused, ids, events);
    return this.#tell({
      ...stored,
      act: 'take',
      taken: refused.length === 0 && folded ? [folded] : [],
      refused,
    });
  }

  /** One entry by its id, or null where there is none or it can not be read. */
  async find(id: string): Promise<Entry | null> {
    const events = await this.#ports.ledger.group(id);
    return events.ok ? this.#entryOf(events.value) : null;
  }

  /** When this person opened a page last, ms, or null where that is longer ago than a week. */
  async lastLook(by: Author, page: PageViewed['page']): Promise<number | null> {
    const { ms } = this.now();
    const span = { from: ms - week, to: ms + 1 };
    const look = await lastLook(this.#ports.ledger, page, by.initials, span);
    return look.ok ? look.value : null;
  }

  /** Note that this person looked at an entry. */
  async view(by: Author, entry: Entry): Promise<void> {
    if (!this.#looks.isNew(by.initials, entry.id, this.now().ms)) return;
    const written = await this.#record(by, [{ type: 'entry.viewed', entry: entry.id }]);
    if (written.kept === 'refused') this.#looks.forget(by.initials, entry.id);
  }

  /** Note that this person opened a page that shows the record. */
  async viewPage(by: Author, page: PageViewed['page'], bed: string | null): Promise<void> {
    await this.#record(by, [{ type: 'page.viewed', page, bed }]);
  }

  #undo(by: Author, decided: readonly Decided[]): Promise<Outcome> {
    return this.#decide(
      'undo',
      by,
      decided.map(({ entry, event }) => ({ id: entry, head: event })),
      ({ id, head }) => ({ type: 'decision.undone', entry: id, saw: head, undoes: head }),
    );
  }

  async #decide(
    act: OutcomeAct,
    by: Author,
    on: readonly Pick<Entry, 'id' | 'head'>[],
    factOf: (entry: Pick<Entry, 'id' | 'head'>) => Fact,
  ): Promise<Outcome> {
    const written = await this.#record(by, on.map(factOf));
    if (written.kept !== 'stored') return this.#tell(unfinished(act, written));
    const ids = written.events.map(({ id }) => id);
    const refused: Told[] = [];
    const taken: Entry[] = [];
    const decided: Decided[] = [];
    for (const { id } of on) {
      const events = await this.#ports.ledger.group(id);
      const entry = events.ok ? this.#entryOf(events.value) : null;
      if (entry === null) continue;
      const told = toldOf(entry, entry.refused, ids, events);
      refused.push(...told);
      const own = events.ok ? events.value.find((event) => ids.includes(event.id)) : undefined;
      if (told.length > 0 || own === undefined) continue;
      taken.push(entry);
      decided.push({ entry: id, event: own.id });
    }
    this.#last = act === 'undo' ? [] : decided;
    return this.#tell({ ...stored, act, taken, refused });
  }

  #record(by: Author, facts: readonly Fact[]): Promise<Recorded> {
    return this.#ports.recorder.record(by, facts);
  }

  #tell(outcome: Outcome): Outcome {
    this.#outcome = outcome;
    return outcome;
  }

  #entryOf(events: readonly LedgerEvent[]): Entry | null {
    return foldEntry(events, this.#ports.rules()).entry;
  }
}

const stored = { kept: 'stored', fault: null } as const;

function unfinished(act: OutcomeAct, recorded: Recorded): Outcome {
  const fault = recorded.kept === 'refused' ? recorded.fault : null;
  return { act, kept: recorded.kept, fault, taken: [], refused: [] };
}

function toldOf(
  about: Entry | Alert,
  refused: readonly Refusal[],
  own: readonly string[],
  events: Result<readonly LedgerEvent[]>,
): Told[] {
  const all = events.ok ? events.value : [];
  return refused
    .filter(({ event }) => own.includes(event.id))
    .map(({ code, because }) => ({
      about,
      code,
      first: all.find(({ id }) => id === because) ?? null,
    }));
}
