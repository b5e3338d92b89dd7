import type { Command, Expectation } from '../../src/grammar/expectation.ts';
import type { Interpreter } from '../../src/grammar/interpreter.ts';
import { isMillilitres, millilitres } from '../../src/measure/volume.ts';
import { atReadback, atStep } from '../bench/hearing/corpus.ts';
import type { Want } from '../bench/hearing/score.ts';

export interface ListLine {
  readonly path: string;
  readonly group: string;
  readonly want: Want;
  readonly expectation: Expectation;
}

const commands: readonly Command[] = [
  'next',
  'again',
  'why',
  'back',
  'hold',
  'carryOn',
  'number',
  'help',
  'confirm',
  'dispute',
  'wrong',
  'addFill',
  'noMore',
];

/** Read a list of recordings. Empty lines and lines with # at the start are passed over. */
export function parseList(
  text: string,
  interpreter: Interpreter,
): (ListLine | { readonly fault: string })[] {
  return text.split(/\r?\n/).flatMap((row, index): (ListLine | { readonly fault: string })[] => {
    if (row.trim() === '' || row.startsWith('#')) return [];
    const [path = '', expected = '', state = ''] = row.split('\t').map((cell) => cell.trim());
    const line = `line ${index + 1}`;
    const expectation = expectationOf(state);
    if (path === '') return [{ fault: `${line}: no path` }];
    if (expectation === undefined) {
      return [{ fault: `${line}: expected "1000/25", "step" or "readback", got "${state}"` }];
    }
    const want = wantOf(expected, expectation, interpreter);
    if (want === undefined) {
      return [{ fault: `${line}: expected mL, a command or "-", got "${expected}"` }];
    }
    const kind = want === null ? 'talk' : 'mL' in want ? 'volume' : 'command';
    return [{ path, group: `${kind} at ${state}`, want, expectation }];
  });
}

function expectationOf(state: string): Expectation | undefined {
  if (state === 'step') return atStep;
  if (state === 'readback') return atReadback;
  const [capacity = NaN, lineStep = NaN] = state.split('/').map(Number);
  if (!isMillilitres(capacity) || !isMillilitres(lineStep) || lineStep === 0) return undefined;
  const container = {
    id: state,
    label: `${capacity} mL`,
    kind: 'graduate',
    capacity: millilitres(capacity),
    lineStep: millilitres(lineStep),
  } as const;
  return { state: 'reading', container, ounceIn: 30, fills: [] };
}

function wantOf(
  expected: string,
  expectation: Expectation,
  interpreter: Interpreter,
): Want | undefined {
  if (expected === '-') return null;
  if (/^\d+$/.test(expected)) return { mL: Number(expected) };
  const named = commands.find((command) => command === expected);
  const command = named ?? interpreter.command(expected.toLowerCase(), expectation);
  return command === null ? undefined : { command };
}
