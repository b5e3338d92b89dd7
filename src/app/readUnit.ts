import * as v from 'valibot';
import type { FaultCode } from '../procedures/fault.ts';
import { jsonLines } from '../procedures/jsonLines.ts';
import type { ErrorCode } from '../words/errors.ts';
import { unit as words } from '../words/en-US/unit.ts';
import { defaultUnit } from './defaultUnit.ts';
import { readOwn } from './ownProcedures.ts';
import { unitSchema, type Unit } from './unit.ts';

export type UnitFaultCode = keyof typeof words.faults;

/** One thing wrong with a unit's settings, and where. */
export interface UnitFault {
  readonly code: UnitFaultCode | FaultCode;
  /** `beds.3.label`; empty for the whole file. */
  readonly path: string;
  /** In the file, from 1; null where no file was read. */
  readonly line: number | null;
  /** What the fault is about: what is allowed, or the value that stands twice. */
  readonly about: string;
}

export type UnitRead =
  | { readonly ok: true; readonly unit: Unit }
  | { readonly ok: false; readonly faults: readonly UnitFault[] };

/** The longest file of a unit that is read, in characters. */
const longestFile = 2_000_000;

/** A unit as one readable file. */
export function unitText(unit: Unit): string {
  return `${JSON.stringify(unit, null, 2)}\n`;
}

/** Read a unit's file. Each fault comes with its line; nothing of a broken file is used. */
export function readUnit(text: string): UnitRead {
  if (text.length > longestFile) return refused('file_too_long');
  const lines = jsonLines(text);
  if ('brokenAt' in lines) return refused('not_json', lines.brokenAt);
  const repeated = lines.repeated.map((path) => fault('repeated_key', path, path));
  const read = checkUnit(JSON.parse(text));
  const faults = [...repeated, ...(read.ok ? [] : read.faults)];
  if (read.ok && faults.length === 0) return read;
  return {
    ok: false,
    faults: faults
      .map((each) => ({ ...each, line: lines.lineOf(each.path) }))
      .sort((one, other) => one.line - other.line),
  };
}

/** Check settings that were parsed already, from a file, a form or the disk. Never throws. */
export function checkUnit(data: unknown): UnitRead {
  const newer = v.safeParse(v.looseObject({ schema: v.number() }), data);
  if (newer.success && newer.output.schema > 1) return refused('newer');
  if (Array.isArray(data)) return refused('wrong_type', null, words.types.Object);
  const parsed = v.safeParse(unitSchema, data);
  if (!parsed.success) return { ok: false, faults: parsed.issues.map(faultOf) };
  const own = readOwn(parsed.output.procedures);
  const faults = [
    ...crossFaults(parsed.output),
    ...own.faults.map((each) => ({ ...each, path: `procedures.${each.path}` })),
    ...(own.faults.length === 0 ? twice('procedures', own.procedures, 'id') : []),
  ];
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, unit: { ...parsed.output, procedures: own.procedures } };
}

/**
 * Settings as they were kept on this device.
 *
 * @returns the defaults with `unit_broken` where they can not be used; without the procedures that a
 *   newer checker refuses, with `procedure_broken`
 */
export function keptUnit(data: unknown): { unit: Unit; error: ErrorCode | null } {
  if (data === undefined) return { unit: defaultUnit, error: null };
  const read = checkUnit(data);
  if (read.ok) return { unit: read.unit, error: null };
  const places = read.faults.map(({ path }) => /^procedures\.(\d+)/.exec(path)?.[1]);
  const rest = v.safeParse(unitSchema, data);
  if (rest.success && !places.includes(undefined)) {
    const sound = rest.output.procedures.filter((_, index) => !places.includes(`${index}`));
    // One that handed over to one of those is lost with it, and so on; each turn leaves fewer.
    const { unit, error } = keptUnit({ ...rest.output, procedures: sound });
    return { unit, error: error ?? 'procedure_broken' };
  }
  return { unit: defaultUnit, error: 'unit_broken' };
}

function fault(code: UnitFault['code'], path: string, about = ''): UnitFault {
  return { code, path, line: null, about };
}

function refused(code: UnitFault['code'], line: number | null = null, about = ''): UnitRead {
  return { ok: false, faults: [{ ...fault(code, '', about), line }] };
}

function faultOf(issue: v.BaseIssue<unknown>): UnitFault {
  const path = v.getDotPath(issue) ?? '';
  const { message, type, received } = issue;
  const expected = (issue.expected ?? '').replaceAll('"', '');
  if (Object.hasOwn(words.faults, message)) return fault(message as UnitFaultCode, path);
  switch (type) {
    case 'strict_object':
      if (expected === 'never') return fault('unknown_key', path);
      return received === 'undefined'
        ? fault('missing', path)
        : fault('wrong_type', path, words.types.Object);
    case 'picklist':
    case 'literal':
      return fault('not_allowed', path, expected.replace(/^\(|\)$/g, '').replaceAll(' |', ','));
    case 'min_length':
      return fault('empty', path);
    case 'max_length':
      return fault('too_long', path, expected.replace(/\D/g, ''));
    case 'min_value':
      return fault('too_small', path, expected.replace(/[^\d.]/g, ''));
    case 'max_value':
      return fault('too_large', path, expected.replace(/[^\d.]/g, ''));
    default:
      return fault('wrong_type', path, words.types[expected as keyof typeof words.types]);
  }
}

/** What the form alone can not hold: names that stand twice, and what is named but not there. */
function crossFaults(unit: Unit): UnitFault[] {
  const { beds, containers, bags, servings, pads, roster, plan } = unit;
  const ids = { container: idsOf(containers), bag: idsOf(bags) };
  return [
    ...twice('beds', beds, 'id'),
    ...twice('beds', beds, 'label'),
    ...twice('containers', containers, 'id'),
    ...twice('containers', containers, 'label'),
    ...twice('bags', bags, 'id'),
    ...twice('bags', bags, 'label'),
    ...twice('servings', servings, 'id'),
    ...twice('servings', servings, 'label'),
    ...twice('pads', pads, 'id'),
    ...twice('pads', pads, 'label'),
    ...twice('roster', roster, 'initials'),
    ...twice('plan.shifts', plan.shifts, 'from'),
    ...twice('plan.shifts', plan.shifts, 'name'),
    ...beds.flatMap((bed, index) =>
      (['container', 'bag'] as const).flatMap((what) => {
        const named = bed[what];
        return named === null || ids[what].has(named)
          ? []
          : [fault(`unknown_${what}`, `beds.${index}.${what}`, named)];
      }),
    ),
    ...containers.flatMap(({ capacity, lineStep }, index) =>
      lineStep > capacity ? [fault('line_above_top', `containers.${index}.lineStep`)] : [],
    ),
    ...(isZone(plan.zone) ? [] : [fault('unknown_zone', 'plan.zone', plan.zone)]),
  ];
}

const idsOf = (items: readonly { readonly id: string }[]): Set<string> =>
  new Set(items.map(({ id }) => id));

function twice<Key extends string>(
  list: string,
  items: readonly Readonly<Record<Key, string>>[],
  key: Key,
): UnitFault[] {
  const known = new Set<string>();
  return items.flatMap((item, index) => {
    const name = item[key].toLowerCase();
    const again = known.has(name);
    known.add(name);
    return again ? [fault('twice', `${list}.${index}.${key}`, item[key])] : [];
  });
}

function isZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en-US', { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}
