import type { Entry } from '../charting/entry.ts';
import type { LedgerEvent } from '../charting/events.ts';
import type { FluidKind } from '../measure/fluid.ts';
import type { Ledger } from '../storage/ledger.ts';

/** What stays in a bag or a pouch until somebody empties it. */
const emptied: readonly FluidKind[] = ['urineCatheter', 'ostomy'];

/** How far back is looked, ms. */
const lookBack = 48 * 3_600_000;

export interface LastEmptied {
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
}

/** When each bed's bag or pouch was last emptied; a bed with neither in two days is not listed. */
export class BedsAtGlance {
  readonly #ports: GlancePorts;
  #beds = $state.raw<readonly (readonly [string, LastEmptied | null])[]>([]);

  constructor(ports: GlancePorts) {
    this.#ports = ports;
  }

  of(bed: string): LastEmptied | null {
    return this.#beds.find(([label]) => label === bed)?.[1] ?? null;
  }

  /** Ask the record again, bed by bed. What it refuses is left out: nothing is guessed. */
  async refresh(beds: readonly string[]): Promise<void> {
    this.#beds = await Promise.all(
      beds.map(async (bed) => [bed, await this.#lastOf(bed)] as const),
    );
  }

  async #lastOf(bed: string): Promise<LastEmptied | null> {
    const now = this.#ports.now();
    const span = { from: now - lookBack, to: now + 60_000 };
    const groups = await this.#ports.ledger.groups({ kind: 'entry', span, bed });
    if (!groups.ok) return null;
    for (const events of [...groups.value].reverse()) {
      const entry = this.#ports.fold(events);
      const isEmptying =
        entry?.kind !== undefined && entry.kind !== null && emptied.includes(entry.kind);
      if (!isEmptying || entry.status === 'entered-in-error' || entry.readAt === null) continue;
      const at = entry.readAt.ms;
      const ago = Math.max(0, now - at);
      return { at, ago, isDue: ago >= this.#ports.dueAfter() * 3_600_000 };
    }
    return null;
  }
}
