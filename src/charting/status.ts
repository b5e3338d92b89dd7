/** FHIR R4 ObservationStatus words that an entry may bear. */
export const entryStatuses = ['preliminary', 'final', 'amended', 'entered-in-error'] as const;
export type EntryStatus = (typeof entryStatuses)[number];

/**
 * Where an entry stands: a status word, and `reopened` for an amended entry that waits for a reviewer
 * again because its confirmation was taken back. FHIR has no word for that, and "preliminary" may not
 * follow "final", so that it goes out as amended.
 */
export type EntryState = EntryStatus | 'reopened';
export const entryStates = [...entryStatuses, 'reopened'] as const satisfies readonly EntryState[];

export const acts = ['confirm', 'amend', 'strike'] as const;
export type Act = (typeof acts)[number];

/**
 *   preliminary ──confirm──► final ──amend──► amended ⟲ amend
 *      ⟲ amend               │ undo              ▲  │ undo
 *                            ▼                   │  ▼ of confirm
 *                         reopened ──confirm─────┘ reopened ⟲ amend
 *
 *   all of them ──strike──► entered-in-error
 *
 * What was final once is amended or entered-in-error for ever after: never final, never preliminary.
 *
 * @see http://hl7.org/fhir/R4/valueset-observation-status.html
 */
const transitions: Record<EntryState, Record<Act, EntryState | null>> = {
  preliminary: { confirm: 'final', amend: 'preliminary', strike: 'entered-in-error' },
  final: { confirm: null, amend: 'amended', strike: 'entered-in-error' },
  amended: { confirm: null, amend: 'amended', strike: 'entered-in-error' },
  reopened: { confirm: 'amended', amend: 'reopened', strike: 'entered-in-error' },
  'entered-in-error': { confirm: null, amend: null, strike: null },
};

/** The state after an act, or null where the act is not allowed. */
export function stateAfter(state: EntryState, act: Act): EntryState | null {
  return transitions[state][act];
}

/**
 * The state after the last act was taken back, or null where that act was never possible.
 *
 * The entry's fields become what they were; its state does not where that would hide that it was
 * final.
 *
 * @param before - where the entry stood when the act was done
 */
export function stateAfterUndo(before: EntryState, act: Act): EntryState | null {
  if (stateAfter(before, act) === null) return null;
  if (act === 'confirm') return 'reopened';
  return before === 'final' ? 'amended' : before;
}

/** The status word of a state. */
export function statusOf(state: EntryState): EntryStatus {
  return state === 'reopened' ? 'amended' : state;
}

/** True while a reviewer still has to confirm it: it counts as waiting and stands in the queue. */
export function waitsIn(state: EntryState): boolean {
  return state === 'preliminary' || state === 'reopened';
}
