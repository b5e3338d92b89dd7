import { builtIn } from '../../app/procedures.ts';
import { unit } from '../../words/en-US/unit.ts';

/** Where an order of steps is published, as the procedures' own files name it. */
export function sourcesOf(setting: string, value: string): string {
  const named = builtIn.flatMap(({ variants, sources }) =>
    variants
      .filter((variant) => variant.setting === setting && variant.is === value)
      .flatMap(({ source }) => sources[source] ?? []),
  );
  const texts = named.map(
    ({ title, clause, grade }) =>
      `${title}${clause === undefined ? '' : `, ${clause.toLowerCase()}`}${unit.orders.grade[grade]}`,
  );
  return texts.length === 0 ? unit.orders.usual : [...new Set(texts)].join('; ');
}
