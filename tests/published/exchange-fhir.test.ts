// Sources: HL7 FHIR R4 profiles as the `fhir` package carries them (an independent validator), and
// the rules it misses (see tests/support/fhir.ts): Observation obs-6, one value[x], references in a
// transaction, instants with an offset. http://hl7.org/fhir/R4/observation.html,
// http://hl7.org/fhir/R4/provenance.html, http://hl7.org/fhir/R4/http.html#ccreate
import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import type { Bundle, FhirResource, Observation } from 'fhir/r4';
import { Temporal } from 'temporal-polyfill';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Entry } from '../../src/charting/entry.ts';
import { sheetOf } from '../../src/charting/sheet.ts';
import { dayOn, eightHourShifts } from '../../src/charting/shifts.ts';
import { bundleOf } from '../../src/exchange/bundle.ts';
import { loincOfDayTotal, loincOfKind } from '../../src/exchange/codes.ts';
import { observationOf } from '../../src/exchange/observation.ts';
import { totalsOf } from '../../src/exchange/total.ts';
import { fluidKinds, type FluidKind } from '../../src/measure/fluid.ts';
import { entryAt, estimated, folded, measured } from '../support/entries.ts';
import { faultsOf } from '../support/fhir.ts';
import { FhirReceiver } from '../support/fhirReceiver.ts';
import { aide, at, draftFact, nurse, otherNurse, Pen, storyStart } from '../support/ledgerStory.ts';

const root = 'https://unit.example';
const plan = { zone: 'UTC', dayFrom: '07:00', shifts: eightHourShifts };
const kinds = Object.keys(fluidKinds) as FluidKind[];

let entries: Entry[];
let bundle: Bundle;

/** One entry of every kind and shape that the record can hold. */
async function everyShape(): Promise<Entry[]> {
  const plain = await Promise.all(kinds.map((kind) => entryAt(storyStart, kind, 350)));
  const guesses = await Promise.all(
    kinds.map((kind) => entryAt(storyStart, kind, 0, { amount: estimated(200) })),
  );
  const pen = new Pen(storyStart + 3 * 3_600_000);
  const fact = draftFact({ amount: measured(950, 430), note: 'Tube was kinked <b>&"' });
  const draft = await pen.write(aide, fact);
  const { entry } = fact;
  const confirmed = await pen.write(nurse, { type: 'entry.confirmed', entry, saw: draft.id });
  const amended = await pen.write(otherNurse, {
    type: 'entry.amended',
    entry,
    saw: confirmed.id,
    reason: 'second fill misread',
    changes: { amount: { was: measured(950, 430), is: measured(1_400) } },
  });
  const struck = await pen.write(nurse, {
    type: 'entry.struck',
    entry,
    saw: amended.id,
    reason: 'wrong bed',
  });
  const takenBack = await pen.write(nurse, {
    type: 'decision.undone',
    entry,
    saw: confirmed.id,
    undoes: confirmed.id,
  });
  const undone = await pen.write(nurse, {
    type: 'decision.undone',
    entry,
    saw: struck.id,
    undoes: struck.id,
  });
  return [
    ...plain,
    ...guesses,
    await entryAt(storyStart, 'urineVoided', 0, { amount: { method: 'unmeasured', count: 2 } }),
    await entryAt(storyStart, 'urineCatheter', 0, { amount: null, confirmed: false }),
    await entryAt(storyStart, 'urineCatheter', 5, {
      bed: null,
      kind: null,
      readAt: null,
      reader: null,
      confirmed: false,
    }),
    folded([draft]),
    folded([draft, confirmed, takenBack]),
    folded([draft, confirmed, amended]),
    folded([draft, confirmed, amended, struck]),
    folded([draft, confirmed, amended, struck, undone]),
  ];
}

function totals(own: readonly Entry[], date = '2026-03-02', zone = 'UTC'): Observation[] {
  const day = dayOn(Temporal, { ...plan, zone }, date);
  const sheet = sheetOf(Temporal, plan, 'Bed 4', day, own);
  return totalsOf(sheet, { start: at(day.from), end: at(day.to), issued: at(day.to) }, root);
}

beforeAll(async () => {
  entries = await everyShape();
  // The last five are one entry at five times; a bundle holds an entry once.
  const once = entries.slice(0, -4);
  bundle = bundleOf(once, totals(once), { root });
});

describe('When resources are validated by an independent package', () => {
  test('every shape of entry is a valid Observation', () => {
    const faulty = entries
      .map((entry) => [entry.id, faultsOf(observationOf(entry, root))] as const)
      .filter(([, faults]) => faults.length > 0);
    expect(faulty).toEqual([]);
  });

  test.each(['create', 'update'] as const)('the whole transaction is valid: %s', (mode) => {
    const once = entries.slice(0, -4);
    expect(faultsOf(bundleOf(once, totals(once), { root, mode }))).toEqual([]);
  });

  test('the validator and our own rules do find what is wrong', () => {
    const [entry] = entries;
    if (entry === undefined) throw new Error('no entry');
    const good = observationOf(entry, root);
    const wrong: readonly FhirResource[] = [
      { ...good, status: 'confirmed' as Observation['status'] },
      { ...good, valueInteger: 350 },
      { ...good, dataAbsentReason: { text: 'none' } },
      { ...good, valueQuantity: undefined },
      { ...good, issued: '2026-03-02T07:00:00' },
      { ...good, invented: true } as Observation,
      { ...bundle, entry: bundle.entry?.slice(1) },
    ];
    for (const resource of wrong) expect(faultsOf(resource)).not.toEqual([]);
  });
});

describe('When an amount is coded', () => {
  const ucum = UcumLhcUtils.getInstance();
  const quantities = () =>
    [
      ...JSON.stringify(bundle).matchAll(
        /"system":"http:\/\/unitsofmeasure.org","code":"([^"]*)"/g,
      ),
    ].map(([, code]) => code ?? '');

  test('every unit is valid UCUM, and volumes are mL', () => {
    expect([...new Set(quantities())].sort()).toEqual(['1', 'mL', 'mL/d']);
    // A code that the converter knows converts; `ml/day` or `cc` would not.
    for (const [code, to, factor] of [
      ['mL', 'L', 1e-3],
      ['mL/d', 'L/d', 1e-3],
      ['1', '1', 1],
    ] as const) {
      const converted = ucum.convertUnitTo(code, 1_000, to);
      expect(converted).toMatchObject({ status: 'succeeded' });
      expect(converted.toVal).toBeCloseTo(1_000 * factor, 9);
    }
    expect(ucum.convertUnitTo('cc', 1, 'L').status).not.toBe('succeeded');
  });

  test('what was not measured has a reason and no value, never 0', () => {
    const absent = entries
      .map((entry) => observationOf(entry, root))
      .filter(({ dataAbsentReason }) => dataAbsentReason !== undefined);
    expect(absent.map(({ dataAbsentReason: it }) => it?.coding?.[0]?.code)).toEqual([
      'not-performed',
      'temp-unknown',
    ]);
    for (const it of absent) expect(it.valueQuantity).toBeUndefined();
  });

  test('a code that says Measured never stands on an estimate', () => {
    for (const entry of entries) {
      const text = JSON.stringify(observationOf(entry, root).code);
      if (entry.amount?.method !== 'measured') expect(text).not.toMatch(/Measured/);
    }
  });
});

describe('When a confirmation was taken back', () => {
  test('it goes out as amended, with a note that it waits, and its total is preliminary', async () => {
    const open = entries.find(({ state }) => state === 'reopened');
    if (open === undefined) throw new Error('no entry');
    const made = observationOf(open, root);
    expect(made.status).toBe('amended');
    expect(made.note?.[0]?.text).toMatch(/taken back.* waits/);
    const [total] = totals([open]);
    expect(total).toMatchObject({ status: 'preliminary', valueQuantity: { value: 1_380 } });
    expect(total?.note?.[0]?.text).toMatch(/1380 mL of this wait/);
  });
});

describe('When times are coded', () => {
  test('the effective time is that of the reading, with its offset', () => {
    const [first] = entries;
    if (first === undefined) throw new Error('no entry');
    const offset = { ms: storyStart, offset: 345 };
    const own = observationOf({ ...first, readAt: offset }, root);
    expect(own.effectiveDateTime).toBe('2026-03-02T12:45:00+05:45');
    expect(own.issued).not.toBe(own.effectiveDateTime);
  });

  test('a day of 23 or 25 h has no 24 h code and its total is in mL', async () => {
    const day = dayOn(Temporal, { ...plan, zone: 'Europe/Berlin' }, '2026-10-24');
    const [output] = totals(
      [await entryAt(day.from, 'urineCatheter', 350)],
      '2026-10-24',
      'Europe/Berlin',
    );
    expect(JSON.stringify(output)).not.toMatch(/loinc|mL\/d/);
    expect(output?.valueQuantity).toMatchObject({ value: 350, code: 'mL' });
  });
});

describe('When a bundle is sent twice', () => {
  const requests = () => (bundle.entry ?? []).map(({ request }) => request);

  test('each resource is created only where its identifier is not there yet', () => {
    const conditions = requests().map((request) => request?.ifNoneExist ?? '');
    expect(conditions.every((it) => /^(identifier|_tag)=https%3A%2F%2F\S+%7C\S+$/.test(it))).toBe(
      true,
    );
    expect(new Set(conditions).size).toBe(conditions.length);
  });

  test('a receiver has what it had, and each event once', () => {
    const receiver = new FhirReceiver();
    receiver.take(bundle);
    const before = JSON.stringify(receiver.resources);
    expect(receiver.resources).toHaveLength(bundle.entry?.length ?? 0);
    receiver.take(bundle);
    expect(JSON.stringify(receiver.resources)).toBe(before);
  });

  test('an entry amended since: as new it changes nothing, with changes it is brought up to date', () => {
    const [amended, earlier] = [entries.at(-3), entries.at(-4)];
    if (!amended || !earlier) throw new Error('no entry');
    const sent = (mode: 'create' | 'update') => bundleOf([amended], [], { root, mode });
    const receiver = new FhirReceiver();
    receiver.take(bundleOf([earlier], [], { root }));
    const events = receiver.of('Provenance').length;
    receiver.take(sent('create'));
    expect(receiver.of('Observation')).toMatchObject([{ valueQuantity: { value: 1_380 } }]);
    receiver.take(sent('update'));
    receiver.take(sent('update'));
    expect(receiver.of('Observation')).toMatchObject([
      { status: 'amended', valueQuantity: { value: 1_400 } },
    ]);
    const history = new Set([...amended.history, ...earlier.history].map(({ id }) => id));
    expect(receiver.of('Provenance')).toHaveLength(history.size);
    expect(history.size).toBeGreaterThan(events);
  });

  test('each event has its Provenance, which names the entry, time and author', () => {
    const once = entries.slice(0, -4);
    const events = once.flatMap(({ history }) => history.map(({ id }) => id));
    const provenances = (bundle.entry ?? []).flatMap(({ resource }) =>
      resource?.resourceType === 'Provenance' ? [resource] : [],
    );
    expect(provenances.map(({ meta }) => meta?.tag?.[0]?.code)).toEqual(events);
  });

  test('a hostile bed label stays within its search value', async () => {
    const bed = 'Bed 4&_tag=x|$,\\#';
    const own = await entryAt(storyStart, 'urineCatheter', 350, { bed });
    const day = dayOn(Temporal, plan, '2026-03-02');
    const sheet = sheetOf(Temporal, plan, bed, day, [own]);
    const moments = { start: at(day.from), end: at(day.to), issued: at(day.to) };
    const made = bundleOf([own], totalsOf(sheet, moments, root), { root, mode: 'update' });
    expect(faultsOf(made)).toEqual([]);
    const urls = (made.entry ?? []).map(({ request }) => request?.url ?? '');
    for (const url of urls.filter((it) => it.includes('?'))) {
      expect([...new URLSearchParams(url.split('?')[1]).keys()]).toEqual(['identifier']);
    }
  });
});

// Where each code was seen. None of these was looked up in LOINC's own release.
const seen: Readonly<Record<string, string>> = {
  '9187-6': 'Urine output (volume, point in time): LOINC as listed in public code lists',
  '9137-1': 'Fluid output emesis (volume, point in time): LOINC 2.82 table',
  '79560-9': 'Fluid output gastrointestinal ostomy [Volume] Measured: LOINC 2.82 table',
  '9000-1': 'Fluid intake oral Measured: LOINC 2.82 table',
  '9108-2': 'Fluid intake total 24 hour: LOINC 2.82 table',
  '9262-7': 'Fluid output total 24 hour: LOINC, public code lists',
};

describe('When LOINC codes are listed', () => {
  test('every code that is exported stands here with where it was seen', () => {
    const codes = [...Object.values(loincOfKind), ...Object.values(loincOfDayTotal)]
      .flatMap((loinc) => (loinc === null ? [] : [loinc]))
      .map(({ code, display }) => [code, display] as const);
    expect([...new Set(codes.map(([code]) => code))].sort()).toEqual(Object.keys(seen).sort());
    for (const [code, display] of codes) expect(seen[code]).toContain(display);
  });

  // Source: LOINC, check digit of its identifiers (Mod 10, Luhn).
  test.each(Object.keys(seen))('%s has the right check digit', (code) => {
    const [number = '', check] = code.split('-');
    const sum = [...number].reverse().reduce((total, digit, place) => {
      const value = Number(digit) * (place % 2 === 0 ? 2 : 1);
      return total + (value > 9 ? value - 9 : value);
    }, 0);
    expect(String((10 - (sum % 10)) % 10)).toBe(check);
  });

  test('for a volume of stool no code was found, and none is made up', () => {
    expect(loincOfKind.stoolLiquid).toBeNull();
  });
});
