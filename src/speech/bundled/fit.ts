import { numberWords } from './backgrounds.ts';
import weights from './fit.json' with { type: 'json' };
import { bareNumber } from './figureOf.ts';
import { measure, measureNames, type Acoustics, type Measures, type Views } from './measures.ts';

/** One utterance after the judgement. */
export interface Judged {
  /** Best first; empty when the utterance is none of what was expected. */
  readonly alternatives: readonly { readonly transcript: string; readonly confidence: number }[];
  /** What fitted best, taken or not. */
  readonly text: string;
  /** What the judgement rests on; absent when there was no word to judge. */
  readonly measures?: Measures;
}

/** A logistic of the measures, and where it cuts. `fit.json` says how it was made. */
export interface FitModel {
  readonly bias: number;
  /** In the order of `measureNames`. */
  readonly weights: readonly number[];
  /** Log odds from which an utterance is taken. */
  readonly take: number;
  /** The same in a loud room, where another number fits better still. */
  readonly takeLoud: number;
  /** The same digit by digit, where nothing holds the words together and another number fits better. */
  readonly takeDigits: number;
  /** Log odds from which it is in doubt; below, it is none of ours. */
  readonly doubt: number;
  /** Where a row of any sounds leads by more, nobody said the words, however well each fits alone. */
  readonly floor: number;
}

/** Under this over the room, words are easily misheard, dB. */
const LOUD_ROOM = 14;

const numberWordSet = new Set(numberWords);

/** True for a reading: it is read back and must be confirmed, so it is judged generously. */
export const isReading = (text: string): boolean =>
  text.split(' ').some((word) => numberWordSet.has(word));

/** Log odds that the utterance is what the words say. */
export function logOdds(measures: Measures, { bias, weights: each }: FitModel): number {
  return measureNames.reduce((sum, name, index) => sum + measures[name] * (each[index] ?? 0), bias);
}

/** Two searches that agree are seldom both wrong, whatever the room. */
function takeOf({ digits, differs, overRoom }: Measures, model: FitModel): number {
  if (differs !== 1) return model.take;
  if (overRoom < LOUD_ROOM) return model.takeLoud;
  return digits === 1 ? model.takeDigits : model.take;
}

/** Decide what an utterance is worth: taken, in doubt, or none of what was expected. */
export function judge(views: Views, acoustics: Acoustics): Judged {
  const { narrow, open } = views;
  const reading = isReading(narrow.text);
  const measures = measure(views, acoustics, reading);
  if (measures === undefined) return { text: narrow.text, alternatives: [] };
  const model: FitModel = reading ? weights.reading : weights.command;
  const odds = logOdds(measures, model);
  const take = takeOf(measures, model);
  // A phrase that moves the walk is taken or it is talk: nobody can ask "did you mean next?".
  if (odds < (reading ? model.doubt : take) || measures.lead < model.floor)
    return { text: narrow.text, alternatives: [], measures };
  // Shifted so that one half is the line between doubt and taking.
  const confidence = 1 / (1 + Math.exp(take - odds));
  const alternatives = [{ transcript: narrow.text, confidence }];
  const rival = bareNumber(open.text);
  if (odds < take && measures.differs === 1 && isReading(rival)) {
    alternatives.push({ transcript: rival, confidence: confidence / 2 });
  }
  return { text: narrow.text, alternatives, measures };
}
