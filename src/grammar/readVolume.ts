import type { Container } from '../measure/vessel.ts';
import { millilitres, type Millilitres } from '../measure/volume.ts';
import type { OunceRule } from './expectation.ts';
import { isFields, type Fields, type Value } from './match/compileTag.ts';
import type { Reader } from './Reader.ts';
import { soundAlike } from './soundAlike.ts';
import type {
  Doubt,
  HeardUnit,
  HowUnderstood,
  VolumeReading,
  VolumeRefusal,
} from './volumeReading.ts';
import { shapeId, largestNumber } from './writtenShapes.ts';
import type { HeardWords } from './readWords.ts';

/** What is known when a volume is said. */
export interface VolumeContext {
  /** What is held; its lines and its top decide between candidates where they can. */
  readonly container?: Container | undefined;
  /** mL in a fluid ounce; 30 where nothing is given (21 CFR 101.9(b)(5)(viii)). */
  readonly ounceIn?: OunceRule | undefined;
}

const none: readonly Millilitres[] = [];

/** Doubts that a container can settle: one of several numbers was meant, and was read off a line. */
const settled: ReadonlySet<Doubt> = new Set(['twoWays']);

/** What tags may ask for; what is kept of phrases holds for the one given last. */
const givenBy: Readonly<Record<OunceRule, Fields>> = {
  30: { ounce: 30 },
  29.5735: { ounce: 29.5735 },
};

/** Reads what is said as a volume, by the rules of `volume.gram` and `numbers.gram`. */
export class VolumeReader {
  readonly #reader: Reader;
  readonly #clues: ReadonlyMap<string, Value>;
  readonly #numberWords: ReadonlySet<string>;
  /** By their ids. */
  readonly #misheard: ReadonlySet<number>;

  constructor(reader: Reader) {
    this.#reader = reader;
    this.#clues = reader.valuesByWord('volume.clue');
    this.#numberWords = reader.wordsOf('numbers.numberWord');
    const misheard = [...reader.wordsOf('numbers.misheard'), ...reader.wordsOf('numbers.loose')];
    this.#misheard = new Set(misheard.map((word) => reader.compiled.words.get(word)!));
  }

  /** @param said - one utterance. Never throws for what is said. */
  read(said: string, context: VolumeContext): VolumeReading {
    const heard = this.#reader.words(said);
    if (typeof heard === 'string') return refusal(said, heard);
    // Most talk ends here: a word that no way of saying a volume has.
    if (heard.ids.includes(0)) return refusal(said, this.#reasonOf(heard));
    if (heard.ids.includes(shapeId.oversize)) return refusal(said, 'too_large');
    const given = givenBy[context.ounceIn ?? 30];
    // Recognisers set commas where no one paused; two numbers side by side are the last resort.
    const plain = heard.hasComma ? withoutCommas(heard) : null;
    let values = this.#reader.read('volume.volume', heard, given);
    if (values.length === 0) {
      values = this.#reader.read('volume.beside', heard, given);
      const closed = plain ? this.#reader.read('volume.volume', plain, given) : [];
      values = values === 'tangled' || closed === 'tangled' ? 'tangled' : [...values, ...closed];
    }
    if (values === 'tangled') return refusal(said, 'tangled');
    if (values.length === 0) return refusal(said, this.#reasonOf(heard));
    const [only] = values;
    if (values.length === 1 && only !== undefined && isFields(only))
      return this.#weighOne(said, only, heard, context);
    return this.#weigh(said, values.filter(isFields), heard, context);
  }

  #reasonOf(heard: HeardWords): VolumeRefusal {
    let hasNumber = false;
    for (let at = 0; at < heard.words.length; at++) {
      const id = heard.ids[at]!;
      if (id === shapeId.oversize) return 'too_large';
      if (heard.words[at] === '$') return 'money';
      hasNumber ||= heard.values[at] !== undefined || this.#numberWords.has(heard.words[at]!);
    }
    if (!hasNumber) return 'no_number';
    for (const word of heard.words) {
      const clue = this.#clues.get(word);
      if (clue !== undefined) return clue as VolumeRefusal;
    }
    return 'not_a_volume';
  }

  /** Most utterances have one way; {@link #weigh} says the same of it, but takes longer. */
  #weighOne(said: string, value: Fields, heard: HeardWords, context: VolumeContext): VolumeReading {
    const volume = value.refused || value.why !== undefined ? null : wholeVolume(value);
    if (volume === null || doubtOf(value, volume))
      return this.#weigh(said, [value], heard, context);
    return this.#reading(said, value, heard, false);
  }

  #weigh(
    said: string,
    all: readonly Fields[],
    heard: HeardWords,
    { container }: VolumeContext,
  ): VolumeReading {
    const refused = all.find((value) => value.refused);
    if (refused) return refusal(said, refused.refused as VolumeRefusal);
    const readings = all.filter((value) => value.why === undefined);
    const doubts = all.filter((value) => value.why !== undefined);
    const numbers = readings.map((value) => wholeVolume(value)).filter((each) => each !== null);
    if (numbers.length === 0 && doubts.length === 0)
      return refusal(said, readings.some(isTooLarge) ? 'too_large' : 'not_a_volume');
    const candidates = likely(distinct([...numbers, ...doubts.flatMap((value) => amongOf(value))]));
    const only = readings.find((value) => wholeVolume(value) !== null);
    if (only && doubts.length === 0 && candidates.length === 1) {
      const doubt = doubtOf(only, candidates[0]!);
      if (!doubt)
        return this.#reading(said, pickOf(readings, candidates[0]!) ?? only, heard, false);
      if (doubt === 'counting' && container && canBeRead(candidates[0]!, container))
        return this.#reading(said, only, heard, true);
      return doubtful(said, candidates, doubt);
    }
    const doubt = (doubts[0]?.why as Doubt | undefined) ?? 'twoWays';
    if (container && doubts.every((value) => settled.has(value.why as Doubt))) {
      const left = candidates.filter((volume) => canBeRead(volume, container));
      const pick = left.length === 1 ? pickOf(readings, left[0]!) : undefined;
      const isWhole = doubts.every(({ only }) => only === undefined || only === left[0]);
      if (left.length === 1 && isWhole)
        return this.#reading(said, pick ?? { mL: left[0], form: 'decided', per: 1 }, heard, true);
    }
    return doubtful(said, candidates, doubt);
  }

  #reading(
    said: string,
    value: Fields,
    heard: HeardWords,
    decidedByContainer: boolean,
  ): VolumeReading {
    const mL = wholeVolume(value) as Millilitres;
    const partners = soundAlike(mL);
    const isMisheard = heard.ids.some((id) => this.#misheard.has(id));
    const fills = volumesOf(value.fills);
    const how: HowUnderstood = {
      form: String(value.form),
      unit: (value.unit as HeardUnit | undefined) ?? null,
      corrected: volumesOf(value.corrected),
      fills: fills.length > 1 ? fills : none,
      isAdded: value.added === 1,
      isMisheard,
    };
    const approximate = value.approx === 1 || heard.isAsked;
    return {
      said,
      mL,
      how,
      approximate,
      ambiguous: none,
      doubt: null,
      soundAlike: partners,
      refused: null,
      decidedByContainer,
      confidence:
        (decidedByContainer ? 0.7 : 1) *
        (isMisheard ? 0.7 : 1) *
        (approximate ? 0.6 : 1) *
        (partners.length > 0 ? 0.9 : 1) *
        (how.corrected.length > 0 ? 0.9 : 1),
    };
  }
}

function withoutCommas(heard: HeardWords): HeardWords {
  const stays = (_: unknown, at: number) => heard.ids[at] !== shapeId.comma;
  return {
    ...heard,
    ids: heard.ids.filter(stays),
    values: heard.values.filter(stays),
    words: heard.words.filter(stays),
  };
}

const isTooLarge = (value: Fields) => (value.mL as number) > largestNumber;

/** mL to a whole number, null where it is none; parts of one come from ounces and cups, and from decimals of litres. */
function wholeVolume(value: Fields): Millilitres | null {
  const exact = value.mL as number;
  const whole = Math.round(exact);
  const isPart = value.per === 1 && Math.abs(whole - exact) > 1e-6;
  if (isTooLarge(value) || isPart) return null;
  return millilitres(whole);
}

const volumesOf = (value: Value): readonly Millilitres[] =>
  value === undefined
    ? none
    : (value as readonly number[]).map((each) => millilitres(Math.round(each)));

const amongOf = (value: Fields): Millilitres[] =>
  ((value.among ?? []) as readonly number[])
    .filter((each) => each <= largestNumber)
    .map((each) => millilitres(Math.round(each)));

const distinct = (volumes: readonly Millilitres[]) => [...new Set(volumes)].sort((a, b) => a - b);

/** No vessel of a bedside holds more; such a number stands only where there is no other. */
const likelyAtMost = 10_000;

function likely(volumes: Millilitres[]): Millilitres[] {
  const small = volumes.filter((volume) => volume <= likelyAtMost);
  return small.length > 0 ? small : volumes;
}

const canBeRead = (volume: Millilitres, container: Container) =>
  volume <= container.capacity && volume % container.lineStep === 0;

/** Of several ways to the same number, the simplest: one fill rather than two. */
function pickOf(readings: readonly Fields[], volume: Millilitres): Fields | undefined {
  const fillsOf = (value: Fields) => volumesOf(value.fills).length;
  return readings
    .filter((value) => wholeVolume(value) === volume)
    .sort((a, b) => fillsOf(a) - fillsOf(b))[0];
}

/** A single number that may not be a reading at all. */
function doubtOf(value: Fields, volume: Millilitres): Doubt | null {
  if (value.bare !== 1) return null;
  if (value.form === 'clock' && value.sure !== 1) return 'clock';
  if (volume > 0 && volume <= ((value.soft as number | undefined) ?? 0)) return 'counting';
  return null;
}

const refusal = (said: string, refused: VolumeRefusal): VolumeReading =>
  noNumber(said, none, null, refused);

const doubtful = (said: string, ambiguous: readonly Millilitres[], doubt: Doubt): VolumeReading =>
  noNumber(said, ambiguous, doubt, null);

// Most talk ends here, so it is written as one object and not put together from parts.
const noNumber = (
  said: string,
  ambiguous: readonly Millilitres[],
  doubt: Doubt | null,
  refused: VolumeRefusal | null,
): VolumeReading => ({
  mL: null,
  how: null,
  approximate: false,
  ambiguous,
  doubt,
  soundAlike: none,
  refused,
  decidedByContainer: false,
  confidence: 0,
  said,
});
