import { builtIn } from '../../app/procedures.ts';
import type { ProcedureSettings } from '../../procedures/schema.ts';
import { unit } from '../../words/en-US/unit.ts';

/** Where an order of steps is published, as the procedures' own files name it. */
export function sourcesOf(setting: keyof ProcedureSettings, value: string): string {
  const named = builtIn.flatMap(({ variants, sources }) =>
    variants
      .filter((variant) => variant.setting === setting && variant.is === value)
      .flatMap(({ source }) => sources[source] ?? []),
  );
  const texts = named.map(
    ({ title, clause, grade }) =>
      `${title}${clause === undefined ? '' : `: ${clause}`}${unit.orders.grade[grade]}`,
  );
  return texts.length === 0 ? unit.orders.usual[setting] : [...new Set(texts)].join('; ');
}
