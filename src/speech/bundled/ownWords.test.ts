import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { say } from '../../../tests/support/flite.ts';
import { grammarFiles } from '../../../tests/support/grammarFiles.ts';
import { openNodeRecogniser } from '../../../tests/support/nodeRecogniser.ts';
import { pad } from '../../../tests/support/noise.ts';
import { createInterpreter } from '../../grammar/interpreter.ts';
import { wordsOfJsgf } from './grammarList.ts';
import type { Recogniser, RecogniserEvent } from './recogniser.ts';

// A unit's own procedure names things that no dictionary has: the real ear, with real grammars.

const known = new Set(
  readFileSync(join(import.meta.dirname, 'words.dict'), 'utf8')
    .split('\n')
    .map((entry) => entry.split(' ')[0]),
);
/** Key words as a unit may write them. */
const steps = [[['zorbalax', 'Zorb']], [['glimmet tube', "quendle's"]], [['Übertüll', 'x7', 'pH']]];

describe('When a unit names steps with words of its own', { timeout: 60_000 }, () => {
  const interpreter = createInterpreter(grammarFiles());
  const { jsgf } = interpreter.earGrammar({ state: 'recall', steps });
  let recogniser: Recogniser;
  let events: RecogniserEvent[];
  const heard = (text: string): string[] => {
    events.length = 0;
    const sound = pad(say(text, 'slt'), 1);
    for (let at = 0; at < sound.length; at += 320) {
      recogniser.push(sound.subarray(at, at + 320), 16_000);
    }
    return events.flatMap((event) => (event.type === 'heard' ? [event.text] : []));
  };

  beforeAll(async () => {
    events = [];
    recogniser = await openNodeRecogniser((event) => events.push(event));
  });
  beforeEach(async () => {
    await recogniser.forget();
    recogniser.expect({ jsgf });
  });

  it('has words that the dictionary lacks', () => {
    expect(wordsOfJsgf(jsgf).filter((word) => !known.has(word))).toEqual(
      expect.arrayContaining(['zorbalax', 'zorb', 'glimmet', "quendle's"]),
    );
  });

  it('takes the grammar, and still hears the commands', () => {
    expect(events.filter(({ type }) => type === 'badGrammar')).toEqual([]);
    expect(heard('say that again')).toEqual(['say that again']);
  });

  it('hears such a word by its guessed sounds', () => {
    expect(heard('glimmet tube').join(' ')).toContain('glimmet');
  });

  it('is not led astray by words that a grammar itself is written with', () => {
    const named = [[['public', 'grammar', 'import', 'null', 'void']]];
    recogniser.expect({ jsgf: interpreter.earGrammar({ state: 'recall', steps: named }).jsgf });
    expect(events.filter(({ type }) => type === 'badGrammar')).toEqual([]);
    expect(heard('say that again')).toEqual(['say that again']);
  });
});
