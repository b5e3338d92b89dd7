import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import type { Container } from '../../src/measure/vessel.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

/**
 * `npm run -s numbers`: one utterance a line in, one JSON object a line out.
 *
 * --container 1000/25   the top line and the distance of two lines, mL
 * --locale en-US        whose grammar files
 * --ounce 30            mL in a fluid ounce, 30 or 29.5735
 */
const { values: options } = parseArgs({
  options: {
    container: { type: 'string' },
    locale: { type: 'string', default: 'en-US' },
    ounce: { type: 'string', default: '30' },
  },
});

function containerOf(text: string | undefined): Container | undefined {
  if (text === undefined) return undefined;
  const [, top, step] = /^(\d{1,6})\/(\d{1,5})$/.exec(text) ?? [];
  if (!Number(top) || !Number(step)) fail(`--container: expected 1000/25, got "${text}"`);
  return {
    id: 'given',
    label: text,
    kind: 'graduate',
    capacity: millilitres(Number(top)),
    lineStep: millilitres(Number(step)),
  };
}

function fail(reason: string): never {
  process.stderr.write(`${reason}\n`);
  process.exit(2);
}

const container = containerOf(options.container);
if (options.ounce !== '30' && options.ounce !== '29.5735')
  fail(`--ounce: expected 30 or 29.5735, got "${options.ounce}"`);
const ounceIn = options.ounce === '30' ? 30 : 29.5735;
let files: Record<string, string>;
try {
  files = grammarFiles(options.locale);
} catch {
  fail(`--locale: no grammars for "${options.locale}"`);
}
const interpreter = createInterpreter(files);

for await (const said of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  const reading = interpreter.volume(said, { container, ounceIn });
  const { mL, approximate, ambiguous, refused, soundAlike } = reading;
  const line = { said, mL, approximate, ambiguous, refused, soundAlike };
  if (!process.stdout.write(`${JSON.stringify(line)}\n`))
    await new Promise((resolve) => process.stdout.once('drain', resolve));
}
