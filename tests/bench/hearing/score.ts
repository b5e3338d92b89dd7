import type { Heard } from './Listener.ts';

/** What should be heard; null where nothing may be taken. */
export type Want = { readonly mL: number } | { readonly command: string } | null;

/** How one recording came out. */
export type Result =
  | 'right'
  /** In doubt, with the right number among its candidates: counts half. */
  | 'rightInDoubt'
  | 'wrongUnflagged'
  /** In doubt without the right number, or a sound-alike whose digits are read back. */
  | 'wrongFlagged'
  | 'refused';

export interface Scored {
  readonly group: string;
  /** False for talk: nothing of it can be heard right. */
  readonly wanted: boolean;
  readonly outcome: Result;
  readonly ms: number;
}

/** Judge one recording. For talk, `refused` is right and anything taken is `wrongUnflagged`. */
export function outcomeOf(
  heard: Pick<Heard, 'outcome' | 'mL' | 'candidates' | 'soundAlike' | 'command'>,
  want: Want,
): Result {
  if (heard.outcome === 'refused') return 'refused';
  if (want === null) return heard.outcome === 'taken' ? 'wrongUnflagged' : 'wrongFlagged';
  if ('command' in want) {
    if (heard.outcome !== 'taken') return 'wrongFlagged';
    return heard.command === want.command ? 'right' : 'wrongUnflagged';
  }
  if (heard.outcome === 'doubtful') {
    return heard.candidates.includes(want.mL) ? 'rightInDoubt' : 'wrongFlagged';
  }
  if (heard.mL === want.mL) return 'right';
  return heard.soundAlike ? 'wrongFlagged' : 'wrongUnflagged';
}

const percent = (part: number, whole: number): string => ((100 * part) / whole).toFixed(1);

/** A table of all groups; `right` counts a doubt with the right number in it half. */
export function tableOf(scored: readonly Scored[]): string {
  const groups = [...new Set(scored.map(({ group }) => group))];
  const rows = groups.map((group) => {
    const members = scored.filter((one) => one.group === group);
    const count = (result: Result): number =>
      members.filter(({ outcome }) => outcome === result).length;
    const n = members.length;
    const right = count('right') + count('rightInDoubt') / 2;
    const times = members.map(({ ms }) => ms).sort((one, other) => one - other);
    const p95 = times[Math.min(n - 1, Math.floor(n * 0.95))] ?? 0;
    return [
      group,
      String(n),
      members.some(({ wanted }) => wanted) ? percent(right, n) : '–',
      percent(count('wrongUnflagged'), n),
      percent(count('wrongFlagged') + count('rightInDoubt'), n),
      percent(count('refused'), n),
      p95.toFixed(0),
    ];
  });
  const head = [
    'group',
    'clips',
    'right %',
    'wrong, unflagged %',
    'flagged %',
    'refused %',
    'ms p95',
  ];
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}
