export type ReviewAct = 'confirm' | 'amend' | 'strike' | 'undo' | 'history';
export type ReviewMove = 'next' | 'previous' | 'choose';

/** One key for each act, shown on its button. */
export const keyOf = {
  confirm: 'c',
  amend: 'a',
  strike: 's',
  undo: 'u',
  history: 'h',
} as const satisfies Record<ReviewAct, string>;

const meanings: ReadonlyMap<string, ReviewAct | ReviewMove> = new Map([
  ...(Object.entries(keyOf) as [ReviewAct, string][]).map(
    ([act, key]) => [key, act] as [string, ReviewAct],
  ),
  ['j', 'next'],
  ['ArrowDown', 'next'],
  ['ArrowRight', 'next'],
  ['k', 'previous'],
  ['ArrowUp', 'previous'],
  ['ArrowLeft', 'previous'],
  ['x', 'choose'],
]);

interface Pressed {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
  readonly target: EventTarget | null;
}

/** What a pressed key means on this page, or null. Keys pressed while writing mean letters. */
export function meaningOf(event: Pressed): ReviewAct | ReviewMove | null {
  if (event.ctrlKey || event.altKey || event.metaKey) return null;
  if (isWriting(event.target)) return null;
  return meanings.get(event.key) ?? null;
}

function isWriting(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.closest('textarea, select, [contenteditable="true"]') !== null) return true;
  return target instanceof HTMLInputElement && target.type !== 'checkbox';
}
