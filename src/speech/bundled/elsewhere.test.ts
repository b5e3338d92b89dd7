import { beforeAll, describe, expect, it } from 'vitest';
import { say } from '../../../tests/support/flite.ts';
import { grammarFiles } from '../../../tests/support/grammarFiles.ts';
import { openNodeRecogniser } from '../../../tests/support/nodeRecogniser.ts';
import { pad } from '../../../tests/support/noise.ts';
import type { Expectation } from '../../grammar/expectation.ts';
import { createInterpreter } from '../../grammar/interpreter.ts';
import { millilitres } from '../../measure/volume.ts';
import type { Recogniser, RecogniserEvent } from './recogniser.ts';

// What is said at the wrong moment, and the quiet about what is said: the real ear, the real grammars.

const readback: Expectation = {
  state: 'readback',
  container: {
    id: 'graduate-1000',
    label: '1000 mL graduate',
    kind: 'graduate',
    capacity: millilitres(1000),
    lineStep: millilitres(25),
  },
  ounceIn: 30,
  proposed: millilitres(350),
};

describe('What the ear takes', { timeout: 60_000 }, () => {
  const interpreter = createInterpreter(grammarFiles());
  let recogniser: Recogniser;
  let events: RecogniserEvent[];

  /** What is understood of what the ear took. */
  const taken = (words: string, expectation: Expectation): string[] => {
    recogniser.expect({ jsgf: interpreter.earGrammar(expectation).jsgf });
    events.length = 0;
    const sound = pad(say(words, 'slt'), 1);
    for (let at = 0; at < sound.length; at += 320) {
      recogniser.push(sound.subarray(at, at + 320), 16_000);
    }
    return events
      .flatMap((event) => (event.type === 'heard' ? event.alternatives : []))
      .map(({ transcript }) => transcript)
      .filter((transcript) => interpreter.understand(transcript, expectation).kind !== 'talk');
  };

  beforeAll(async () => {
    events = [];
    recogniser = await openNodeRecogniser((event) => events.push(event));
    // By the time anything is read back or looked at, the ear has heard the voice for some steps.
    for (let step = 0; step < 3; step += 1) taken('next', { state: 'step' });
  });

  it.each(['done', 'next', 'next step', 'okay', 'thank you'])(
    'is nothing where "%s" is said to a read-back',
    (words) => {
      expect(taken(words, readback)).toEqual([]);
    },
  );

  it.each(['carry on', 'thank you', 'okay'])(
    'is nothing where "%s" is said to the question how it looks',
    (words) => {
      expect(taken(words, { state: 'look' })).toEqual([]);
    },
  );

  it('is still what is asked for there', () => {
    expect(taken('correct', readback)).toEqual(['correct']);
    expect(taken('next', { state: 'look' })).toEqual(['next']);
  });

  it.each(['amber', 'cloudy', 'no smell'])(
    'is "%s" alone, with nothing more laid over the quiet after it',
    (words) => {
      expect(taken(words, { state: 'look' })).toEqual([words]);
    },
  );
});
