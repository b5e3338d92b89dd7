import type { Expectation } from './expectation.ts';

/** What a rule's value is taken for. */
export type RouteKind =
  | 'command'
  | 'volume'
  | 'weight'
  | 'item'
  | 'look'
  | 'initials'
  | 'choice'
  | 'alert'
  /** The check fails: another procedure takes over. */
  | 'otherwise';

export interface Route {
  readonly kind: RouteKind;
  /** Full name of a public rule. A route whose grammar is not loaded is passed over. */
  readonly rule: string;
}

const volume: Route = { kind: 'volume', rule: 'volume.volume' };
const weight: Route = { kind: 'weight', rule: 'weight.weight' };
const soiled: Route = { kind: 'otherwise', rule: 'weight.soiled' };
const ownItem: Route = { kind: 'item', rule: 'intake.ownItem' };
const item: Route = { kind: 'item', rule: 'intake.item' };
const noMore: Route = { kind: 'command', rule: 'intake.noMore' };
const alert: Route = { kind: 'alert', rule: 'alerts.alert' };

/**
 * Which rules are listened for in each state, first come first served.
 *
 * A further grammar is one line here: `look.look` and the like are taken up as soon as their file
 * is there.
 */
export const routes: Readonly<Record<Expectation['state'], readonly Route[]>> = {
  step: [{ kind: 'command', rule: 'commands.atStep' }, alert],
  held: [{ kind: 'command', rule: 'commands.atHeld' }, alert],
  reading: [{ kind: 'command', rule: 'commands.atReading' }, volume, alert],
  readback: [{ kind: 'command', rule: 'commands.atReadback' }, volume, alert],
  check: [{ kind: 'command', rule: 'commands.atStep' }, soiled, alert],
  counting: [
    { kind: 'command', rule: 'commands.atStep' },
    { kind: 'command', rule: 'commands.atReadback' },
    alert,
  ],
  weighing: [{ kind: 'command', rule: 'commands.atStep' }, weight, soiled, alert],
  weighed: [{ kind: 'command', rule: 'commands.atReadback' }, weight, soiled, alert],
  tray: [{ kind: 'command', rule: 'commands.atStep' }, noMore, ownItem, item, alert],
  trayReadback: [{ kind: 'command', rule: 'commands.atReadback' }, noMore, ownItem, item, alert],
  look: [{ kind: 'command', rule: 'commands.atStep' }, { kind: 'look', rule: 'look.look' }, alert],
  initials: [
    { kind: 'command', rule: 'commands.atQuestion' },
    { kind: 'initials', rule: 'initials.initials' },
    alert,
  ],
  initialsReadback: [
    { kind: 'command', rule: 'commands.atReadback' },
    { kind: 'initials', rule: 'initials.initials' },
    alert,
  ],
  choosing: [
    { kind: 'command', rule: 'commands.atQuestion' },
    { kind: 'choice', rule: 'choosing.choice' },
  ],
  chosen: [
    { kind: 'command', rule: 'choosing.begin' },
    { kind: 'command', rule: 'commands.atReadback' },
    { kind: 'choice', rule: 'choosing.choice' },
  ],
  practice: [
    { kind: 'command', rule: 'recall.atPractice' },
    { kind: 'command', rule: 'commands.atStep' },
    alert,
  ],
  // The step itself comes in free words: see recallEar.
  recall: [
    { kind: 'command', rule: 'recall.atRecall' },
    { kind: 'command', rule: 'commands.atQuestion' },
  ],
};
