/**
 * The W3C Web Speech contract that every engine stands behind, as far as the app needs it.
 *
 * @see https://webaudio.github.io/web-speech-api/ (draft community report)
 */
export interface Recognition extends EventTarget {
  lang: string;
  continuous: boolean;
  interimResults: boolean;
  maxAlternatives: number;
  /** Absent where the browser does not know it. */
  processLocally?: boolean;
  /** Absent where the browser does not know it. */
  phrases?: readonly unknown[];
  /** A list made with `addFromString`; browsers ignore it, the bundled engine lives by it. */
  grammars?: unknown;
  start(track?: MediaStreamTrack): void;
  stop(): void;
  abort(): void;
}

export type Availability = 'unavailable' | 'downloadable' | 'downloading' | 'available';

export interface RecognitionOptions {
  readonly langs: readonly string[];
  readonly processLocally?: boolean;
}

/** The constructor, with its static methods where the browser has them. */
export interface RecognitionType {
  new (): Recognition;
  available?(options: RecognitionOptions): Promise<Availability>;
  install?(options: RecognitionOptions): Promise<boolean>;
}

export type RecognitionErrorCode =
  | 'no-speech'
  | 'aborted'
  | 'audio-capture'
  | 'network'
  | 'not-allowed'
  | 'service-not-allowed'
  | 'language-not-supported'
  | 'phrases-not-supported';

export interface RecognitionAlternative {
  readonly transcript: string;
  readonly confidence: number;
}

export interface RecognitionResult extends ArrayLike<RecognitionAlternative> {
  readonly isFinal: boolean;
  item(index: number): RecognitionAlternative;
}

export interface RecognitionResultList extends ArrayLike<RecognitionResult> {
  item(index: number): RecognitionResult;
}

export interface RecognitionResultEvent extends Event {
  readonly resultIndex: number;
  readonly results: RecognitionResultList;
}

export interface RecognitionErrorEvent extends Event {
  readonly error: RecognitionErrorCode;
  readonly message: string;
}
