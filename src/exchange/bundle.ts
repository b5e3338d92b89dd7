import type { Bundle, BundleEntry, Observation, Provenance } from 'fhir/r4';
import type { Entry } from '../charting/entry.ts';
import { uuid } from '../charting/uuid.ts';
import { usualRoot } from './codes.ts';
import { observationOf } from './observation.ts';
import { provenancesOf } from './provenance.ts';

export interface BundleOptions {
  /** Root of our identifiers; a unit sets one that it owns. */
  readonly root?: string;
  /**
   * `create` keeps what the receiver has (conditional create). `update` brings an entry that the
   * receiver has in an earlier version up to date (conditional update). Both may be sent twice.
   */
  readonly mode?: 'create' | 'update';
}

/**
 * Entries and totals as one R4 transaction: Observations, then a Provenance for each event.
 *
 * @param totals - as `totalsOf` makes them, of the same root
 * @see http://hl7.org/fhir/R4/http.html#ccreate
 */
export function bundleOf(
  entries: readonly Entry[],
  totals: readonly Observation[],
  { root = usualRoot, mode = 'create' }: BundleOptions = {},
): Bundle {
  // The total's place in the bundle makes its address, which lives only within the transaction.
  const totalUrl = (place: number): string => `urn:uuid:${uuid(0, bytesOf(place + 1))}`;
  const observations = [
    ...entries.map((entry) => observed(`urn:uuid:${entry.id}`, observationOf(entry, root), mode)),
    ...totals.map((total, place) => observed(totalUrl(place), total, mode)),
  ];
  const provenances = entries
    .flatMap((entry) => provenancesOf(entry, root))
    .map((provenance) => proven(provenance, root));
  return {
    resourceType: 'Bundle',
    type: 'transaction',
    entry: [...observations, ...provenances],
  };
}

function observed(
  fullUrl: string,
  resource: Observation,
  mode: 'create' | 'update',
): BundleEntry<Observation> {
  const [identifier] = resource.identifier ?? [];
  const search = searchOf('identifier', identifier?.system ?? '', identifier?.value ?? '');
  const request: BundleEntry['request'] =
    mode === 'create'
      ? { method: 'POST', url: 'Observation', ifNoneExist: search }
      : { method: 'PUT', url: `Observation?${search}` };
  return { fullUrl, resource, request };
}

function proven(resource: Provenance, root: string): BundleEntry<Provenance> {
  const id = resource.meta?.tag?.[0]?.code ?? '';
  const ifNoneExist = searchOf('_tag', `${root}/event`, id);
  return {
    fullUrl: `urn:uuid:${id}`,
    resource,
    request: { method: 'POST', url: 'Provenance', ifNoneExist },
  };
}

/** A token search. In a token `|`, `,`, `$` and `\` of the value are escaped, then it is URL text. */
function searchOf(parameter: string, system: string, value: string): string {
  const token = (text: string): string => text.replace(/[\\|,$]/g, '\\$&');
  return `${parameter}=${encodeURIComponent(`${token(system)}|${token(value)}`)}`;
}

function bytesOf(count: number): Uint8Array {
  const bytes = new Uint8Array(10);
  new DataView(bytes.buffer).setUint32(6, count);
  return bytes;
}
