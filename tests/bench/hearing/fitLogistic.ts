import type { FitModel } from '../../../src/speech/bundled/fit.ts';
import { measureNames, type Measures } from '../../../src/speech/bundled/measures.ts';

export interface Example {
  readonly measures: Measures;
  /** The words are what was said, and were meant for us. */
  readonly right: boolean;
}

/** Log odds at which an utterance is taken, and at which it is in doubt; the least lead of all. */
export type Cuts = Pick<FitModel, 'take' | 'takeLoud' | 'takeDigits' | 'doubt' | 'floor'>;

const ROUNDS = 4_000;
const RATE = 0.3;
/** Pull of the weights towards 0, so that a rare measure carries none of its own. */
const PULL = 0.003;

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/** Fit a logistic by plain gradient descent; right and wrong ones weigh alike in sum. */
export function fitLogistic(examples: readonly Example[], cuts: Cuts): FitModel {
  const columns = measureNames.map((name) => examples.map(({ measures }) => measures[name]));
  const means = columns.map(mean);
  const spreads = columns.map((column, index) => {
    const middle = means[index] ?? 0;
    return Math.sqrt(mean(column.map((value) => (value - middle) ** 2))) || 1;
  });
  const rows = examples.map(({ measures }) =>
    measureNames.map(
      (name, index) => (measures[name] - (means[index] ?? 0)) / (spreads[index] ?? 1),
    ),
  );
  const rights = examples.filter(({ right }) => right).length;
  const shareOf = (right: boolean): number =>
    0.5 / Math.max(1, right ? rights : examples.length - rights);

  const weights = measureNames.map(() => 0);
  let bias = 0;
  const oddsOf = (row: readonly number[]): number =>
    row.reduce((sum, value, index) => sum + value * (weights[index] ?? 0), bias);
  for (let round = 0; round < ROUNDS; round += 1) {
    const slopes = weights.map((weight) => PULL * weight);
    let slope = 0;
    rows.forEach((row, at) => {
      const right = examples[at]?.right === true;
      const wrongBy = (1 / (1 + Math.exp(-oddsOf(row))) - (right ? 1 : 0)) * shareOf(right);
      slope += wrongBy;
      row.forEach((value, index) => {
        slopes[index] = (slopes[index] ?? 0) + wrongBy * value;
      });
    });
    bias -= RATE * slope;
    slopes.forEach((each, index) => {
      weights[index] = (weights[index] ?? 0) - RATE * each;
    });
  }

  // Back to the measures' own units.
  const plain = weights.map((weight, index) => weight / (spreads[index] ?? 1));
  const shift = plain.reduce((sum, weight, index) => sum + weight * (means[index] ?? 0), 0);
  const rounded = (value: number): number => Math.round(value * 1e4) / 1e4;
  return {
    bias: rounded(bias - shift),
    weights: plain.map(rounded),
    ...cuts,
  };
}
