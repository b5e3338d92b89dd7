import type { Bundle, FhirResource } from 'fhir/r4';

/**
 * The least that a receiver of a transaction does: conditional create and conditional update by an
 * identifier or a tag.
 *
 * @see http://hl7.org/fhir/R4/http.html#ccreate, http://hl7.org/fhir/R4/http.html#cond-update
 */
export class FhirReceiver {
  readonly resources: FhirResource[] = [];

  take(bundle: Bundle): void {
    for (const { resource, request } of bundle.entry ?? []) {
      if (resource === undefined || request === undefined) throw new Error('an entry is empty');
      const update = request.method === 'PUT';
      const search = update ? request.url.split('?')[1] : request.ifNoneExist;
      const found = this.resources.findIndex((it) => matches(it, search ?? ''));
      if (found < 0) this.resources.push(resource as FhirResource);
      else if (update) this.resources[found] = resource as FhirResource;
    }
  }

  of<T extends FhirResource['resourceType']>(
    type: T,
  ): Extract<FhirResource, { resourceType: T }>[] {
    return this.resources.filter(
      (it): it is Extract<FhirResource, { resourceType: T }> => it.resourceType === type,
    );
  }
}

function matches(resource: FhirResource, search: string): boolean {
  const [[parameter, token] = ['', '']] = [...new URLSearchParams(search)];
  const [system, value] = token.split(/(?<!\\)\|/).map((part) => part.replace(/\\(.)/g, '$1'));
  const tags = resource.meta?.tag ?? [];
  if (parameter === '_tag') return tags.some((it) => it.system === system && it.code === value);
  const identifiers = 'identifier' in resource ? [resource.identifier ?? []].flat() : [];
  return (
    parameter === 'identifier' &&
    identifiers.some((it) => it.system === system && it.value === value)
  );
}
