// Sources: HL7 FHIR R4, code system observation-status (http://hl7.org/fhir/R4/codesystem-observation-status.html);
// FHIR R4 Observation.status: "preliminary" is an early result, "final" complete and verified,
// "amended" modified after it was final, "entered-in-error" withdrawn after release.
// The code list is asked of the `fhir` package, which carries the R4 definitions.
import { describe, expect, test } from 'vitest';
import {
  acts,
  entryStates,
  entryStatuses,
  stateAfter,
  stateAfterUndo,
  statusOf,
  type EntryStatus,
} from '../../src/charting/status.ts';
import { faultsOf } from '../support/fhir.ts';

const statusFaults = (status: string) =>
  faultsOf({
    resourceType: 'Observation',
    status: status as EntryStatus,
    code: { text: 'Urine output' },
    valueQuantity: { value: 350 },
  });

describe('When status words are compared with the FHIR R4 value set', () => {
  test.each(entryStatuses)('%s is one of its codes', (status) => {
    expect(statusFaults(status)).toEqual([]);
  });

  test.each(['confirmed', 'struck', 'draft', 'Final', ''])('%j is none', (status) => {
    expect(statusFaults(status)).not.toEqual([]);
  });
});

describe('When every pair of statuses is looked at', () => {
  const reach = (from: EntryStatus, to: EntryStatus): boolean =>
    entryStates
      .filter((state) => statusOf(state) === from)
      .some((state) => acts.some((act) => toStatus(stateAfter(state, act)) === to));
  const toStatus = (state: ReturnType<typeof stateAfter>) => state && statusOf(state);
  // From the R4 definitions of the words: a verified result is changed to amended or withdrawn,
  // and does not become unverified; "amended" presupposes "final".
  const allowed: Record<EntryStatus, readonly EntryStatus[]> = {
    preliminary: ['preliminary', 'final', 'entered-in-error'],
    final: ['amended', 'entered-in-error'],
    amended: ['amended', 'entered-in-error'],
    'entered-in-error': [],
  };
  const pairs = entryStatuses.flatMap((from) => entryStatuses.map((to) => [from, to] as const));

  test.each(pairs)('%s to %s', (from, to) => {
    expect(reach(from, to)).toBe(allowed[from].includes(to));
  });

  // Taking a decision back is a further event, and the same definitions hold for it: final is
  // followed by amended, and never by preliminary.
  const undone: Record<EntryStatus, readonly EntryStatus[]> = {
    preliminary: ['preliminary'],
    final: ['amended'],
    amended: ['amended'],
    'entered-in-error': ['preliminary', 'amended'],
  };

  test.each(pairs)('%s to %s by taking back the last decision', (from, to) => {
    const found = entryStates.some((before) =>
      acts.some(
        (act) =>
          toStatus(stateAfter(before, act)) === from &&
          toStatus(stateAfterUndo(before, act)) === to,
      ),
    );
    expect(found).toBe(undone[from].includes(to));
  });
});
