import type { RecordBook } from '../../app/record.svelte.ts';
import type { RecordSettings } from '../../app/recordSettings.ts';
import { againstOf, queueOrder, weightOf, type Against } from '../../app/standing.ts';
import type { GroupList } from '../../app/GroupList.ts';
import type { Entry, RefusalCode } from '../../charting/entry.ts';
import type { Author, DecisionEvent } from '../../charting/events.ts';
import { forbids, isAuthor } from '../../charting/reviewRules.ts';
import { waitsIn } from '../../charting/status.ts';
import type { ReviewAct, ReviewMove } from './keys.ts';

/** Vials drawn at once: more are asked for. */
const rackSize = 60;

interface DeskInput {
  readonly book: () => RecordBook;
  readonly author: () => Author;
  readonly settings: () => RecordSettings;
  /** The entries of one bed and day, or null while the queue is shown. */
  readonly day: () => GroupList<Entry> | null;
}

/** What lies on the reviewer's desk: which entry is in view, which are taken along, which slip is out. */
export class ReviewDesk {
  readonly #input: DeskInput;
  slip = $state.raw<'amend' | 'strike' | 'history' | null>(null);
  limit = $state(rackSize);
  #wanted = $state.raw<string | null>(null);
  #place = $state.raw(0);
  #chosen = $state.raw<readonly string[]>([]);

  constructor(input: DeskInput) {
    this.#input = input;
  }

  readonly list = $derived.by(() => this.#input.day() ?? this.#input.book().queue);
  readonly alerts = $derived.by(() => this.#input.book().alerts.items);
  readonly ordered = $derived.by<readonly Entry[]>(() => {
    const { lateAfter } = this.#input.settings();
    if (this.#input.day() === null) return queueOrder(this.list.items, this.alerts, lateAfter);
    return [...this.list.items].sort(
      (one, other) => (one.readAt ?? one.draft.at).ms - (other.readAt ?? other.draft.at).ms,
    );
  });
  readonly parked = $derived.by(() =>
    this.#input.book().queue.items.filter(({ amount }) => amount === null),
  );
  readonly shown = $derived.by(() => this.ordered.slice(0, Math.max(this.limit, this.#at + 1)));
  readonly #at = $derived.by(() => {
    const found = this.ordered.findIndex(({ id }) => id === this.#wanted);
    // What was in view has left the rack: the next one stands in its place.
    return found >= 0 ? found : Math.min(this.#place, Math.max(0, this.ordered.length - 1));
  });
  readonly current = $derived.by<Entry | null>(() => this.ordered[this.#at] ?? null);
  readonly chosen = $derived.by(() =>
    this.ordered.filter((entry) => this.isChosen(entry) && this.mayChoose(entry)),
  );
  readonly clear = $derived.by(() => this.ordered.filter((entry) => this.mayChoose(entry)));
  readonly shut = $derived.by<RefusalCode | null>(() =>
    this.current === null ? null : this.#forbids(this.current, 'confirm'),
  );
  /** Acts that the rules and the record allow now. */
  readonly open = $derived.by<readonly ReviewAct[]>(() => {
    const { current } = this;
    const allowed = (['confirm', 'amend', 'strike'] as const).filter(
      (act) =>
        (act === 'confirm' && this.chosen.length > 1) ||
        (current !== null && this.#forbids(current, act) === null),
    );
    const undoable = this.#input.book().undoable || this.ownLast !== null;
    return [
      ...allowed,
      ...(undoable ? (['undo'] as const) : []),
      ...(current === null ? [] : (['history'] as const)),
    ];
  });
  /** The entry in view, where its last decision is this person's own. */
  readonly ownLast = $derived.by<Entry | null>(() => {
    const last = this.current?.history.at(-1);
    const own = last !== undefined && isTakeable(last) && last.by.initials === this.#who.initials;
    return own ? this.current : null;
  });

  against(entry: Entry): readonly Against[] {
    return againstOf(entry, this.alerts, this.#input.settings().lateAfter);
  }

  serious(entry: Entry): boolean {
    return waitsIn(entry.state) && weightOf(this.against(entry)) >= 2;
  }

  own(entry: Entry): boolean {
    return isAuthor(entry, this.#who);
  }

  /** Only what nothing stands against is confirmed with others. */
  mayChoose(entry: Entry): boolean {
    return this.#forbids(entry, 'confirm') === null && this.against(entry).length === 0;
  }

  isChosen(entry: Entry): boolean {
    return this.#chosen.includes(entry.id);
  }

  choose(entry: Entry, chosen: boolean): void {
    const others = this.#chosen.filter((id) => id !== entry.id);
    this.#chosen = chosen && this.mayChoose(entry) ? [...others, entry.id] : others;
  }

  chooseClear(): void {
    this.#chosen = this.clear.map(({ id }) => id);
  }

  chooseNone(): void {
    this.#chosen = [];
  }

  show(id: string): void {
    this.#wanted = id;
    this.#place = this.ordered.findIndex((entry) => entry.id === id);
    this.slip = null;
  }

  move(move: ReviewMove): void {
    if (move === 'choose') {
      if (this.current) this.choose(this.current, !this.isChosen(this.current));
      return;
    }
    const to = this.ordered[this.#at + (move === 'next' ? 1 : -1)];
    if (to) this.show(to.id);
  }

  /** Do what a key or a button asks for, where it is open. Resolves when it is decided. */
  async act(what: ReviewAct): Promise<void> {
    if (!this.open.includes(what)) return;
    if (what === 'amend' || what === 'strike' || what === 'history') {
      this.slip = this.slip === what ? null : what;
      return;
    }
    const { chosen, current, ownLast } = this;
    const book = this.#input.book();
    if (what === 'confirm') {
      const some = chosen.length > 1 ? chosen : current === null ? [] : [current];
      this.hold();
      this.chooseNone();
      await book.confirm(this.#who, some);
    } else if (book.undoable) await book.undoLast(this.#who);
    else if (ownLast !== null) await book.undo(this.#who, ownLast);
  }

  /** Keep the place in the rack when the entry in view leaves it. */
  hold(): void {
    this.#place = this.#at;
    this.#wanted = this.current?.id ?? null;
    this.slip = null;
  }

  get #who(): Author {
    return this.#input.author();
  }

  #forbids(entry: Entry, act: 'confirm' | 'amend' | 'strike'): RefusalCode | null {
    const { rules } = this.#input.settings();
    return forbids(entry, act, this.#who, this.#input.book().now().ms, rules);
  }
}

function isTakeable(event: Entry['history'][number]): event is DecisionEvent {
  return event.type !== 'entry.drafted' && event.type !== 'decision.undone';
}
