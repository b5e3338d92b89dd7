import type { Command, Expectation } from '../grammar/expectation.ts';
import type { Interpreter, Understood } from '../grammar/interpreter.ts';
import type { Moment } from '../measure/moment.ts';
import type { Millilitres } from '../measure/volume.ts';
import type { Hearing } from '../speech/ear.ts';
import { grams, isGrams, type Grams } from '../measure/weight.ts';
import { bedNamed } from './bedNamed.ts';
import { padSaid } from './padSaid.ts';
import type { Evidence, SaidEvent, SaidVolume } from './said.ts';
import { namedServing, servingSaid } from './servingSaid.ts';

type Choosing = Extract<Expectation, { state: 'choosing' }>;

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
  if (!isReadBack(best) && hearing.fit === 'taken') {
    return eventOf(best, expectation, words, at) ?? talk;
  }
  const volume = amountOf(all, expectation, hearing, at);
  return volume === null ? talk : { type: 'said.volume', volume };
}

/** What is taken generously, since nothing of it is kept before it was read back and agreed to. */
const isReadBack = ({ kind }: Understood): boolean =>
  kind === 'volume' || kind === 'weight' || kind === 'item';

function amountOf(
  all: readonly Understood[],
  expectation: Expectation,
  hearing: Hearing,
  at: Moment,
): SaidVolume | null {
  const evidence: Evidence = { alternatives: hearing.alternatives, ear: hearing.ear, at };
  const unsure = hearing.fit === 'doubtful';
  if (expectation.state === 'weighing' || expectation.state === 'weighed') {
    const [first, ...others] = all.flatMap(gramsOf);
    return first === undefined
      ? null
      : padSaid([first, ...others], expectation.pad, unsure, evidence);
  }
  if (expectation.state === 'tray' || expectation.state === 'trayReadback') {
    const { servings } = expectation;
    const named = all.flatMap((one) =>
      one.kind === 'item' ? (namedServing(one.value, servings) ?? []) : [],
    );
    return named[0] === undefined ? null : servingSaid(named[0], unsure, evidence);
  }
  const volumes = all.flatMap((one) => (one.kind === 'volume' ? [one.reading] : []));
  const first = volumes[0];
  if (first === undefined) return null;
  const candidates = unique(
    volumes.flatMap(({ mL, ambiguous }) => [...(mL === null ? [] : [mL]), ...ambiguous]),
  );
  return {
    mL: first.mL,
    candidates,
    fills: first.how?.fills ?? [],
    approximate: first.approximate,
    doubtful: unsure || candidates.length > 1,
    soundAlike: first.soundAlike,
    withdrawn: first.how?.corrected ?? [],
    further: first.how?.isAdded ?? false,
    evidence,
  };
}

function gramsOf(one: Understood): Grams[] {
  if (one.kind !== 'weight' || typeof one.value !== 'object') return [];
  const value = 'grams' in one.value ? one.value.grams : null;
  return isGrams(value) ? [grams(value)] : [];
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
      const known = 'roster' in expectation ? expectation.roster : [];
      const initials = isText(said.value) && known.includes(said.value) ? said.value : null;
      return initials === null ? null : { type: 'said.initials', initials, words, at };
    }
    case 'choice':
      return 'beds' in expectation ? choiceOf(said.value, expectation, words, at) : null;
    case 'otherwise':
      return { type: 'said.otherwise', words, at };
    case 'weight':
    case 'item':
    case 'volume':
    case 'talk':
      return null;
  }
}

function choiceOf(
  value: unknown,
  { beds, procedures }: Pick<Choosing, 'beds' | 'procedures'>,
  words: string,
  at: Moment,
): SaidEvent | null {
  if (typeof value !== 'object' || value === null || !('bed' in value)) return null;
  const { bed: number, procedure = null } = value as { bed: unknown; procedure?: unknown };
  if (!isText(procedure) || !procedures.includes(procedure) || typeof number !== 'number') {
    return null;
  }
  const side = 'side' in value && isText(value.side) ? value.side : null;
  const bed = bedNamed(beds, number, side);
  return bed === null
    ? { type: 'said.noBed', words, at }
    : { type: 'said.choice', bed, procedure, words, at };
}

const isText = (value: unknown): value is string => typeof value === 'string';

/** A command as the event that it is. */
export function saidCommand(command: Command, words: string, at: Moment): SaidEvent {
  return { type: `said.${command}`, words, at };
}
