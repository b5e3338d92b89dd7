import { fault, type Fault } from '../fault.ts';
import { firstWith } from '../gloveSpan.ts';
import type { Mark } from '../marks.ts';
import type { Procedure } from '../schema.ts';

/** The points of the CAUTI guidelines that every emptying of a urine bag keeps (facts 2.2, 2.3). */
const bagPoints: readonly Mark[] = [
  'ownContainer',
  'bagBelowBladder',
  'noKinks',
  'tipTouchesNothing',
];

/** Opened, closed, wiped, returned: in that order. */
export function tapRules(procedure: Procedure): Fault[] {
  const { steps, bags = [] } = procedure;
  const [open, close, wipe, holder] = (
    ['openTap', 'closeTap', 'wipeTap', 'tapInHolder'] as const
  ).map((mark) => firstWith(steps, mark)) as [number, number, number, number];
  const faults: Fault[] = [];

  if (open >= 0) {
    const at = `steps.${open}`;
    if (close < 0) faults.push(fault('tap_left_open', at));
    if (wipe < 0) faults.push(fault('tap_not_wiped', at));
    if (holder < 0) faults.push(fault('tap_not_returned', at));
  }
  if (close >= 0 && close < open) faults.push(fault('tap_closed_before_opened', `steps.${close}`));
  if (wipe >= 0 && wipe < close) faults.push(fault('wiped_before_closed', `steps.${wipe}`));
  if (holder >= 0 && holder < wipe) faults.push(fault('returned_before_wiped', `steps.${holder}`));

  if (bags.includes('bedside') || bags.includes('leg')) {
    const wanted = bags.includes('bedside') ? [...bagPoints, 'offFloor' as const] : bagPoints;
    for (const mark of wanted)
      if (firstWith(steps, mark) < 0) faults.push(fault('bag_point_missing', 'steps', mark));
  }
  return faults;
}
