import type { Command, Expectation } from '../grammar/expectation.ts';
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
  if (best.kind !== 'volume' && hearing.fit === 'taken') {
    return eventOf(best, expectation, words, at) ?? talk;
  }

  const volumes = all.flatMap((one) => (one.kind === 'volume' ? [one.reading] : []));
  const first = volumes[0];
  if (first === undefined || (best.kind !== 'volume' && hearing.fit !== 'doubtful')) return talk;

  const evidence: Evidence = { alternatives: hearing.alternatives, ear: hearing.ear, at };
  const candidates = unique(
    volumes.flatMap(({ mL, ambiguous }) => [...(mL === null ? [] : [mL]), ...ambiguous]),
  );
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

function eventOf(
  said: Understood,
  expectation: Expectation,
  words: string,
  at: Moment,
): SaidEvent | null {
  switch (said.kind) {
    case 'command':
      return saidCommand(said.command, words, at);
    case 'look': {
      const codes = Array.isArray(said.value) ? said.value.filter(isText) : [];
      return codes.length > 0 ? { type: 'said.look', codes, words, at } : null;
    }
    case 'alert':
      return isText(said.value) ? { type: 'said.alert', code: said.value, words, at } : null;
    case 'initials': {
      const known = expectation.state === 'initials' ? expectation.roster : [];
      const initials = isText(said.value) && known.includes(said.value) ? said.value : null;
      return initials === null ? null : { type: 'said.initials', initials, at };
    }
    case 'choice':
    case 'volume':
    case 'talk':
      return null;
  }
}

const isText = (value: unknown): value is string => typeof value === 'string';

/** A command as the event that it is. */
export function saidCommand(command: Command, words: string, at: Moment): SaidEvent {
  // A union of events differs from an event with a union of types; the names match one to one.
  return { type: `said.${command}`, words, at } as SaidEvent;
}
