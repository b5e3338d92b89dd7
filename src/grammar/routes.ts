import type { Expectation } from './expectation.ts';

/** What a rule's value is taken for. */
export type RouteKind = 'command' | 'volume' | 'look' | 'initials' | 'choice' | 'alert';

export interface Route {
  readonly kind: RouteKind;
  /** Full name of a public rule. A route whose grammar is not loaded is passed over. */
  readonly rule: string;
}

const volume: Route = { kind: 'volume', rule: 'volume.volume' };

/**
 * Which rules are listened for in each state, first come first served.
 *
 * A further grammar is one line here: `look.look` and the like are taken up as soon as their file
 * is there.
 */
export const routes: Readonly<Record<Expectation['state'], readonly Route[]>> = {
  step: [
    { kind: 'command', rule: 'commands.atStep' },
    { kind: 'alert', rule: 'alerts.alert' },
  ],
  held: [
    { kind: 'command', rule: 'commands.atHeld' },
    { kind: 'alert', rule: 'alerts.alert' },
  ],
  reading: [
    { kind: 'command', rule: 'commands.atReading' },
    volume,
    { kind: 'alert', rule: 'alerts.alert' },
  ],
  readback: [{ kind: 'command', rule: 'commands.atReadback' }, volume],
  look: [
    { kind: 'command', rule: 'commands.atStep' },
    { kind: 'look', rule: 'look.look' },
    { kind: 'alert', rule: 'alerts.alert' },
  ],
  initials: [
    { kind: 'command', rule: 'commands.atQuestion' },
    { kind: 'initials', rule: 'initials.initials' },
  ],
  choosing: [
    { kind: 'command', rule: 'commands.atQuestion' },
    { kind: 'choice', rule: 'choosing.choice' },
  ],
  practice: [
    { kind: 'command', rule: 'recall.atPractice' },
    { kind: 'command', rule: 'commands.atStep' },
    { kind: 'alert', rule: 'alerts.alert' },
  ],
  // The step itself comes in free words: see recallEar.
  recall: [
    { kind: 'command', rule: 'recall.atRecall' },
    { kind: 'command', rule: 'commands.atQuestion' },
  ],
};
