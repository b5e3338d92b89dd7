import { fluidKinds, type FluidKind } from '../../measure/fluid.ts';
import type { Sums, Standing } from '../../charting/sums.ts';
import { fluids } from '../../words/en-US/fluids.ts';
import { sheet } from '../../words/en-US/sheet.ts';

/** One column of the sheet: a kind, or all of one direction where it has several. */
export interface SheetColumn {
  readonly key: string;
  readonly head: string;
  readonly side: 'intake' | 'output';
  readonly of: (sums: Sums) => Standing | undefined;
}

/** These stand on every sheet, so that an empty column shows that nothing was recorded. */
const usual: readonly FluidKind[] = ['oralFluid', 'urineCatheter'];

/** The columns that a day needs: its kinds, intake first. */
export function columnsOf(total: Sums): readonly SheetColumn[] {
  const kinds = (Object.keys(fluidKinds) as FluidKind[]).filter(
    (kind) => usual.includes(kind) || total.byKind[kind] !== undefined,
  );
  return (['intake', 'output'] as const).flatMap((side) => {
    const own = kinds.filter((kind) => fluidKinds[kind] === side);
    const columns = own.map((kind): SheetColumn => ({
      key: kind,
      head: fluids[kind],
      side,
      of: ({ byKind }) => byKind[kind],
    }));
    const all: SheetColumn = { key: side, head: sheet.table.all, side, of: (sums) => sums[side] };
    return own.length > 1 ? [...columns, all] : columns;
  });
}
