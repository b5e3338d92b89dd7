import type { Provenance } from 'fhir/r4';
import type { Entry } from '../charting/entry.ts';
import { isoOf } from '../measure/moment.ts';
import { systems } from './codes.ts';
import { personReference } from './observation.ts';

const operations = {
  'entry.drafted': 'CREATE',
  'entry.confirmed': 'UPDATE',
  'entry.amended': 'UPDATE',
  'entry.struck': 'NULLIFY',
  'decision.undone': 'UPDATE',
} as const satisfies Record<Entry['history'][number]['type'], string>;

/**
 * One R4 Provenance for each event that made an entry, oldest first.
 *
 * R4 gives Provenance no identifier, so the event's id stands as a tag, by which it can be searched.
 *
 * @see http://hl7.org/fhir/R4/provenance.html
 */
export function provenancesOf(entry: Entry, root: string): Provenance[] {
  return entry.history.map((event) => {
    const draft = event.type === 'entry.drafted';
    const occurred = draft ? event.readAt : null;
    return {
      resourceType: 'Provenance',
      meta: { tag: [{ system: `${root}/event`, code: event.id }] },
      target: [{ reference: `urn:uuid:${entry.id}` }],
      ...(occurred === null ? {} : { occurredDateTime: isoOf(occurred) }),
      recorded: isoOf(event.at),
      ...('reason' in event ? { reason: [{ text: event.reason }] } : {}),
      activity: {
        coding: [
          { system: systems.operation, code: operations[event.type] },
          { system: `${root}/event-type`, code: event.type },
        ],
      },
      agent: [
        {
          type: { coding: [{ system: systems.participant, code: draft ? 'author' : 'verifier' }] },
          who: personReference(root, event.by.initials),
        },
      ],
    };
  });
}
