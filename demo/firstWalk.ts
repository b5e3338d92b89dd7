import type { WalkScript } from '../src/app/demo/walkScript.ts';

/**
 * What the simulated aide says in the first minute. The level stands at 350 mL; she takes it for
 * another line first, and puts it right when it is read back.
 */
export const firstWalk: WalkScript = {
  bed: 'bed-12',
  procedure: 'drainage-bag',
  level: 350,
  readings: ['three hundred milliliters', 'three hundred fifty milliliters'],
  onward: 'next step',
  yes: 'correct',
  no: 'no',
  aside: {
    explain: { words: 'good morning dear', to: 'resident' },
    look: { words: 'it is clear', to: 'assistant' },
  },
};
