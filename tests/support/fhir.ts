import type { Bundle, FhirResource, Observation } from 'fhir/r4';
import { createRequire } from 'node:module';

interface Message {
  readonly severity: string;
  readonly message: string;
  readonly location?: string;
}

// The package's own types sit on the same name as the resource types, so its one use is typed here.
const { Fhir } = createRequire(import.meta.url)('fhir') as {
  Fhir: new () => { validate(resource: unknown, options: object): { messages: Message[] } };
};
const validator = new Fhir();

/**
 * Faults of a resource by the `fhir` package (R4 profiles), and by the rules that it misses: one
 * value at most, obs-6, references of a transaction that lead somewhere, and times with an offset.
 */
export function faultsOf(resource: FhirResource): string[] {
  const { messages } = validator.validate(resource, { errorOnUnexpected: true });
  const errors = messages
    .filter(({ severity }) => severity === 'error' || severity === 'fatal')
    .map(({ location, message }) => `${location ?? ''}: ${message}`);
  return [...errors, ...missedBy(resource)];
}

function missedBy(resource: FhirResource): string[] {
  if (resource.resourceType === 'Observation') return observationFaults(resource);
  if (resource.resourceType !== 'Bundle') return timeFaults(resource);
  const faults = (resource.entry ?? []).flatMap(({ resource: inner }) =>
    inner === undefined ? ['an entry without a resource'] : missedBy(inner as FhirResource),
  );
  return [...faults, ...referenceFaults(resource)];
}

function observationFaults(observation: Observation): string[] {
  const faults = timeFaults(observation);
  // As it goes out: JSON leaves undefined away.
  const keys = Object.keys(JSON.parse(JSON.stringify(observation)) as object);
  const values = keys.filter((key) => key.startsWith('value'));
  const times = keys.filter((key) => key.startsWith('effective'));
  if (values.length > 1) faults.push('more than one value[x]');
  if (times.length > 1) faults.push('more than one effective[x]');
  // obs-6: dataAbsentReason only where there is no value.
  if (values.length > 0 && observation.dataAbsentReason !== undefined) faults.push('obs-6');
  if (values.length === 0 && observation.dataAbsentReason === undefined) {
    faults.push('neither a value nor a reason for its absence');
  }
  return faults;
}

function timeFaults(resource: FhirResource): string[] {
  const text = JSON.stringify(resource);
  const times = text.match(/"\d{4}-\d\d-\d\dT[^"]*"/g) ?? [];
  return times
    .filter((time) => !/T\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)"$/.test(time))
    .map((time) => `no offset: ${time}`);
}

function referenceFaults(bundle: Bundle): string[] {
  const urls = (bundle.entry ?? []).map(({ fullUrl }) => fullUrl ?? '');
  const known = new Set(urls);
  const faults = known.size < urls.length ? ['a fullUrl twice'] : [];
  const uses = JSON.stringify(bundle).match(/"reference":"[^"]*"/g) ?? [];
  for (const use of uses) {
    const url = use.slice('"reference":"'.length, -1);
    if (!known.has(url)) faults.push(`leads nowhere: ${url}`);
  }
  return faults;
}
