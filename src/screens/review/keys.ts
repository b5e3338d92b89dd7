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

const vertical: ReadonlySet<string> = new Set(['ArrowDown', 'ArrowUp']);
const untyped: ReadonlySet<string> = new Set(['checkbox', 'radio', 'button', 'submit', 'file']);

/**
 * What a pressed key means on this page, or null. Keys pressed while writing mean letters; up and
 * down go on scrolling the page unless the rack has the focus.
 */
export function meaningOf(event: Pressed): ReviewAct | ReviewMove | null {
  const { key, target } = event;
  if (event.ctrlKey || event.altKey || event.metaKey) return null;
  const element = target instanceof HTMLElement ? target : null;
  if (element !== null && isWriting(element)) return null;
  if (key.startsWith('Arrow') && isRadio(element)) return null;
  if (vertical.has(key) && !element?.closest(`[${rackMark}]`)) return null;
  return meanings.get(key) ?? null;
}

/** The attribute of the place where up and down move through the entries. */
export const rackMark = 'data-rack';

function isRadio(element: HTMLElement | null): boolean {
  return element instanceof HTMLInputElement && element.type === 'radio';
}

function isWriting(element: HTMLElement): boolean {
  if (element.closest('textarea, select, [contenteditable="true"]') !== null) return true;
  return element instanceof HTMLInputElement && !untyped.has(element.type);
}
