import type { Entry } from '../charting/entry.ts';
import type { LedgerEvent } from '../charting/events.ts';
import type { FluidKind } from '../measure/fluid.ts';
import type { Ledger } from '../storage/ledger.ts';

/** How far back is looked, ms. */
const lookBack = 48 * 3_600_000;

/** The newest entry of one kind. */
export interface LastMeasured {
  readonly kind: FluidKind;
  /** When it was read, ms since the Unix epoch. */
  readonly at: number;
  /** Since then, ms. */
  readonly ago: number;
  readonly isDue: boolean;
}

export interface GlancePorts {
  readonly ledger: Pick<Ledger, 'groups'>;
  readonly fold: (events: readonly LedgerEvent[]) => Entry | null;
  /** ms since the Unix epoch */
  readonly now: () => number;
  /** Hours after which it is due. Common practice: every 8 h or a shift. */
  readonly dueAfter: () => number;
  /** The kinds that the unit wants to be reminded of. */
  readonly kinds: () => readonly FluidKind[];
}

/** When each kind that the unit wants was last measured at each bed. */
export class BedsAtGlance {
  readonly #ports: GlancePorts;
  #beds = $state.raw<readonly (readonly [string, readonly LastMeasured[] | null])[]>([]);

  constructor(ports: GlancePorts) {
    this.#ports = ports;
  }

  /**
   * The kinds measured in the last two days, the longest ago first; none where there was nothing.
   *
   * @returns null where the record was not asked, or refused
   */
  of(bed: string): readonly LastMeasured[] | null {
    return this.#beds.find(([label]) => label === bed)?.[1] ?? null;
  }

  /** Ask the record again, bed by bed. What it refuses is left out: nothing is guessed. */
  async refresh(beds: readonly string[]): Promise<void> {
    this.#beds = await Promise.all(
      beds.map(async (bed) => [bed, await this.#lastsOf(bed)] as const),
    );
  }

  async #lastsOf(bed: string): Promise<readonly LastMeasured[] | null> {
    const now = this.#ports.now();
    const span = { from: now - lookBack, to: now + 60_000 };
    const groups = await this.#ports.ledger.groups({ kind: 'entry', span, bed });
    if (!groups.ok) return null;
    const newest: Partial<Record<FluidKind, number>> = {};
    for (const events of groups.value) {
      const entry = this.#ports.fold(events);
      if (entry === null || entry.status === 'entered-in-error') continue;
      const { kind, readAt } = entry;
      if (kind === null || readAt === null) continue;
      newest[kind] = Math.max(readAt.ms, newest[kind] ?? 0);
    }
    const due = this.#ports.dueAfter() * 3_600_000;
    return this.#ports
      .kinds()
      .flatMap((kind) => {
        const at = newest[kind];
        if (at === undefined) return [];
        const ago = Math.max(0, now - at);
        return [{ kind, at, ago, isDue: ago >= due }];
      })
      .sort((one, other) => other.ago - one.ago);
  }
}
