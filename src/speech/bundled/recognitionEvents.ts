import type {
  RecognitionAlternative,
  RecognitionErrorCode,
  RecognitionErrorEvent,
  RecognitionResult,
  RecognitionResultEvent,
  RecognitionResultList,
} from '../recognition.ts';

class Row<Item> extends Array<Item> {
  // `map` and the like give plain arrays, not rows.
  static override get [Symbol.species](): ArrayConstructor {
    return Array;
  }

  item(index: number): Item {
    return this[index] as Item;
  }
}

class Result extends Row<RecognitionAlternative> implements RecognitionResult {
  isFinal = true;
}

const rowOf = <Items extends Row<Item>, Item>(row: Items, items: readonly Item[]): Items => {
  row.push(...items);
  return row;
};

/** One utterance with its alternatives, best first. */
export function resultOf(
  alternatives: readonly RecognitionAlternative[],
  isFinal: boolean,
): RecognitionResult {
  const result = rowOf(new Result(), alternatives);
  result.isFinal = isFinal;
  return result;
}

/** A result for `result` events, or none for `nomatch`. */
export class BundledResultEvent extends Event implements RecognitionResultEvent {
  readonly resultIndex: number;
  readonly results: RecognitionResultList;

  constructor(type: 'result' | 'nomatch', results: readonly RecognitionResult[], index: number) {
    super(type);
    this.results = rowOf(new Row<RecognitionResult>(), results);
    this.resultIndex = index;
  }
}

export class BundledErrorEvent extends Event implements RecognitionErrorEvent {
  readonly error: RecognitionErrorCode;
  readonly message: string;

  constructor(error: RecognitionErrorCode, message = '') {
    super('error');
    this.error = error;
    this.message = message;
  }
}

/** Beside the contract: how loud it is, 0 to 1. */
export class LevelEvent extends Event {
  readonly level: number;

  constructor(level: number) {
    super('level');
    this.level = level;
  }
}

/** Beside the contract: an utterance was lost to noise (`loud`) or to distance (`faint`). */
export class PoorEvent extends Event {
  readonly why: 'loud' | 'faint';

  constructor(why: 'loud' | 'faint') {
    super('poor');
    this.why = why;
  }
}
