/**
 * FHIR R4 ObservationStatus words that an entry may bear.
 *
 *   preliminary ──confirm──► final ──amend──► amended ⟲ amend
 *      ⟲ amend      │          │                 │
 *        └──strike──┴──────────┴──► entered-in-error
 *
 * @see http://hl7.org/fhir/R4/valueset-observation-status.html
 */
export const entryStatuses = ['preliminary', 'final', 'amended', 'entered-in-error'] as const;
export type EntryStatus = (typeof entryStatuses)[number];
export type Act = 'confirm' | 'amend' | 'strike';

const transitions: Record<EntryStatus, Record<Act, EntryStatus | null>> = {
  preliminary: { confirm: 'final', amend: 'preliminary', strike: 'entered-in-error' },
  final: { confirm: null, amend: 'amended', strike: 'entered-in-error' },
  amended: { confirm: null, amend: 'amended', strike: 'entered-in-error' },
  'entered-in-error': { confirm: null, amend: null, strike: null },
};

/**
 * The status after an act, or null where the act is not allowed.
 *
 * Taking a decision back is no transition: the fold sets the entry to what stood before it.
 */
export function statusAfter(status: EntryStatus, act: Act): EntryStatus | null {
  return transitions[status][act];
}
