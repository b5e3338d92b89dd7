import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import type { BedsidePage } from './bedsidePage.ts';

/** From the first step of a drainage bag to its entry by typing, with four hundred millilitres read. */
export async function typeToEntry(aide: BedsidePage): Promise<void> {
  for (const { call, kind } of drainageBag.steps.slice(0, -1)) {
    await aide.untilStep(call);
    if (kind === 'reading') {
      await aide.type('four hundred');
      await aide.voice.untilSaid(/four hundred milliliters/);
      await aide.type('correct');
    } else await aide.type('next');
  }
}
