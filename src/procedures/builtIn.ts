import bedpanHat from './en-US/bedpan-hat.json';
import drainageBag from './en-US/drainage-bag.json';
import emesis from './en-US/emesis.json';
import legBag from './en-US/leg-bag.json';
import oralIntake from './en-US/oral-intake.json';
import ostomyPouch from './en-US/ostomy-pouch.json';
import unmeasuredEpisode from './en-US/unmeasured-episode.json';
import urinal from './en-US/urinal.json';
import weighedPad from './en-US/weighed-pad.json';
import { procedureOf } from './load.ts';
import type { Procedure } from './schema.ts';

/** The procedures that come with the app, the most frequent first. */
export const builtIn: readonly Procedure[] = [
  drainageBag,
  legBag,
  urinal,
  bedpanHat,
  emesis,
  ostomyPouch,
  weighedPad,
  unmeasuredEpisode,
  oralIntake,
].map((data) => {
  const loaded = procedureOf(data);
  if (loaded.ok) return loaded.procedure;
  // `npm run validate` says the same with lines, before anything is built.
  throw new Error(`unsound_procedure: ${data.id}: ${JSON.stringify(loaded.faults)}`);
});
