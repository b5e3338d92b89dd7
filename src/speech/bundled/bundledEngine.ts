import type { Alternative, Hearing } from '../ear.ts';
import type { Expectation } from '../../grammar/expectation.ts';
import type { RecognitionEngine } from '../recognitionEar.ts';
import { GrammarList } from './grammarList.ts';
import type { OnDeviceType } from './bundledRecognition.ts';

/** Our engine's confidence is the likelihood that the utterance was meant for us; below this it is in doubt. */
export const doubtBelow = 0.5;

/** What our engine's alternatives and confidences say. */
export const bundledFit = (alternatives: readonly Alternative[]): Hearing['fit'] =>
  alternatives.length > 1 || (alternatives[0]?.confidence ?? 0) < doubtBelow ? 'doubtful' : 'taken';

/**
 * The bundled engine behind the one adapter: it is given the grammar itself.
 *
 * @param endSilence - quiet that ends an utterance, ms; the engine's own where it is left out
 */
export function bundledEngine(
  type: OnDeviceType,
  grammarOf: (expectation: Expectation) => { readonly jsgf: string },
  endSilence?: () => number,
): RecognitionEngine {
  return {
    name: 'bundled',
    make() {
      const recognition = new type();
      if (endSilence !== undefined) recognition.endSilence = endSilence();
      return recognition;
    },
    tune(recognition, expectation) {
      const list = new GrammarList();
      list.addFromString(grammarOf(expectation).jsgf);
      recognition.grammars = list;
    },
    fitOf: bundledFit,
    // The first start loads 7 MB of model, from a cache or from the unit's network.
    startLimit: 60_000,
  };
}
