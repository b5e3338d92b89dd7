import type { Expectation } from '../../grammar/expectation.ts';
import type { Alternative, Hearing } from '../ear.ts';
import type { Recognition, RecognitionErrorEvent, RecognitionType } from '../recognition.ts';
import type { RecognitionEngine } from '../recognitionEar.ts';

/** Something that may be said now. @param boost - 0 to 10, how much it is favoured */
export interface Phrase {
  readonly phrase: string;
  readonly boost: number;
}

/** What the browser's engine is told of the grammar, and how its answers are judged by it. */
export interface BrowserGrammar {
  /** The likeliest things to be said now, for engines that take hints. */
  phrasesOf(expectation: Expectation): readonly Phrase[];
  /**
   * What an answer means now, as a text to compare by (`350`, `next`), or null when it means
   * nothing.
   */
  meaningOf(transcript: string, expectation: Expectation): string | null;
}

export interface BrowserParts {
  readonly type: RecognitionType;
  readonly grammar: BrowserGrammar;
  /** True: sound may leave the device, and the unit has said so by name. */
  readonly remote: boolean;
  /** The browser's `SpeechRecognitionPhrase`, where there is one. */
  readonly makePhrase: ((phrase: string, boost: number) => unknown) | undefined;
  /** Quiet that ends an utterance, ms; shorter than the engine's own it changes nothing. */
  readonly endSilence?: () => number;
}

/** Engines take a list of some hundred hints; all ways to say all lines would be thousands. */
const MOST_PHRASES = 400;
/** After this much quiet an interim result counts as final: iOS holds finals back, ms. */
const INTERIM_LIMIT = 1_200;

/** The browser's own engine behind the one adapter. */
export function browserEngine({
  type,
  grammar,
  remote,
  makePhrase,
  endSilence,
}: BrowserParts): RecognitionEngine {
  let phrasesRefused = false;
  const setPhrases = (recognition: Recognition, expectation: Expectation): void => {
    if (makePhrase === undefined || phrasesRefused || !('phrases' in recognition)) return;
    try {
      recognition.phrases = grammar
        .phrasesOf(expectation)
        .slice(0, MOST_PHRASES)
        .map(({ phrase, boost }) => makePhrase(phrase, boost));
    } catch {
      phrasesRefused = true;
    }
  };
  return {
    name: remote ? 'remote' : 'browser',
    make: () => new type(),
    tune(recognition, expectation) {
      if ('processLocally' in recognition) recognition.processLocally = !remote;
      else if (!remote) throw new Error('not_local: this engine can not promise to stay here');
      setPhrases(recognition, expectation);
    },
    fitOf: (alternatives, expectation) => fitByMeaning(grammar, alternatives, expectation),
    retreat(error: RecognitionErrorEvent, recognition: Recognition): boolean {
      if (error.error !== 'phrases-not-supported' || phrasesRefused) return false;
      phrasesRefused = true;
      recognition.phrases = [];
      return true;
    },
    get interimLimit() {
      return Math.max(INTERIM_LIMIT, endSilence?.() ?? 0);
    },
    startLimit: 6_000,
  };
}

/** The grammar decides, not the engine's confidence: several meanings are a doubt. */
function fitByMeaning(
  grammar: BrowserGrammar,
  alternatives: readonly Alternative[],
  expectation: Expectation,
): Hearing['fit'] {
  const meanings = alternatives.map(({ transcript }) => grammar.meaningOf(transcript, expectation));
  const distinct = new Set(meanings.filter((meaning) => meaning !== null));
  if (distinct.size === 0) return 'none';
  return distinct.size === 1 && meanings[0] !== null ? 'taken' : 'doubtful';
}
