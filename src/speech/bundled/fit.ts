import { numberWords } from './backgrounds.ts';
import type { Decoded } from './engine.ts';

/** One utterance after the judgement. */
export interface Judged {
  /** Best first; empty when the utterance is none of what was expected. */
  readonly alternatives: readonly { readonly transcript: string; readonly confidence: number }[];
}

const isNumber = (text: string): boolean =>
  text.split(' ').some((word) => numberWords.includes(word));

/** Decide what an utterance is worth: taken, in doubt, or none of what was expected. */
export function judge(heard: Record<'narrow' | 'open' | 'sounds', Decoded>): Judged {
  const { narrow, open, sounds } = heard;
  if (narrow.text === '' || narrow.score === undefined || sounds.score === undefined) {
    return { alternatives: [] };
  }
  const frames = narrow.pieces.reduce(
    (sum, { word, length }) => sum + (word.startsWith('<') ? 0 : length),
    0,
  );
  const lead = (narrow.score - sounds.score) / Math.max(1, frames);
  const floor = isNumber(narrow.text) ? -4 : 4;
  if (lead < floor) return { alternatives: [] };
  const confidence = 1 / (1 + Math.exp(-(lead - floor) / 4));
  const alternatives = [{ transcript: narrow.text, confidence }];
  if (isNumber(narrow.text) && open.text !== '' && open.text !== narrow.text) {
    alternatives.push({ transcript: open.text, confidence: confidence / 2 });
  }
  return { alternatives };
}
