import type { Expectation } from '../grammar/expectation.ts';
import type { Interpreter, Understood } from '../grammar/interpreter.ts';
import type { Moment } from '../measure/moment.ts';
import type { Millilitres } from '../measure/volume.ts';
import type { Hearing } from '../speech/ear.ts';
import type { Evidence, SaidEvent, SaidVolume } from './said.ts';

/**
 * What an utterance means now: an event for the walk.
 *
 * A phrase that moves the walk is taken strictly: the best alternative, and an ear that is sure. A
 * volume is taken generously, because it is read back; where the alternatives name different
 * numbers it is doubtful and carries them all.
 */
export function judged(
  hearing: Hearing,
  expectation: Expectation,
  interpreter: Interpreter,
  at: Moment,
): SaidEvent {
  const words = hearing.alternatives[0]?.transcript ?? '';
  const talk: SaidEvent = { type: 'said.talk', words, at };
  if (hearing.fit === 'none') return talk;

  const all = hearing.alternatives.map(({ transcript }) =>
    interpreter.understand(transcript, expectation),
  );
  const best = all[0];
  if (best === undefined) return talk;
  if (best.kind !== 'volume' && hearing.fit === 'taken') return eventOf(best, words, at) ?? talk;

  const volumes = all.filter((one) => one.kind === 'volume').map(({ reading }) => reading);
  const first = volumes[0];
  if (first === undefined || (best.kind !== 'volume' && hearing.fit !== 'doubtful')) return talk;

  const evidence: Evidence = { alternatives: hearing.alternatives, ear: hearing.ear, at };
  const candidates = unique(
    volumes.flatMap(({ mL, ambiguous }) => [...(mL === null ? [] : [mL]), ...ambiguous]),
  );
  if (candidates.length === 0) return talk;
  const volume: SaidVolume = {
    mL: first.mL,
    candidates,
    fills: first.how?.fills ?? [],
    approximate: first.approximate,
    doubtful: hearing.fit === 'doubtful' || candidates.length > 1,
    soundAlike: first.soundAlike,
    withdrawn: first.how?.corrected ?? [],
    further: first.how?.isAdded ?? false,
    evidence,
  };
  return { type: 'said.volume', volume };
}

const unique = (values: readonly Millilitres[]): Millilitres[] => [...new Set(values)];

/** What was understood, as a text to compare by: two ways to say one thing are one meaning. */
export function canonicalMeaning(said: Understood): string | null {
  switch (said.kind) {
    case 'talk':
      return null;
    case 'command':
      return said.command;
    case 'volume': {
      const { mL, ambiguous } = said.reading;
      return mL === null ? ambiguous.join('/') || null : String(mL);
    }
    default:
      return JSON.stringify(said);
  }
}

function eventOf(said: Understood, words: string, at: Moment): SaidEvent | null {
  switch (said.kind) {
    case 'command':
      return { type: `said.${said.command}`, words, at };
    default:
      return null;
  }
}
