import { wing } from '../../../demo/wing.ts';
import { checkUnit } from '../readUnit.ts';
import type { Unit } from '../unit.ts';

/**
 * The demo wing as a unit like any other, checked like any other.
 *
 * @param zone - IANA zone
 * @throws {Error} `demo_broken` when the data breaks the form of a unit
 */
export function demoUnit(zone: string): Unit {
  const read = checkUnit({ ...wing, plan: { ...wing.plan, zone } });
  if (!read.ok) throw new Error(`demo_broken: ${JSON.stringify(read.faults)}`);
  return read.unit;
}
