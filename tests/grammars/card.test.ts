import { describe, expect, it } from 'vitest';
import type { Expectation } from '../../src/grammar/expectation.ts';
import { createInterpreter, type Understood } from '../../src/grammar/interpreter.ts';
import { defaultContainers } from '../../src/measure/containers.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { card } from '../../src/words/en-US/card.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

const interpreter = createInterpreter(grammarFiles());
const container = defaultContainers[0]!.item;
const expectations: Readonly<Record<string, Expectation>> = {
  step: { state: 'step' },
  held: { state: 'held' },
  look: { state: 'look' },
  reading: { state: 'reading', container, ounceIn: 30, fills: [] },
  readback: { state: 'readback', container, ounceIn: 30, proposed: millilitres(350) },
};

function meaningOf(said: Understood): string {
  switch (said.kind) {
    case 'command':
      return said.command;
    case 'volume':
      return String(said.reading.mL);
    case 'talk':
      return `talk: ${said.reason}`;
    default:
      return Array.isArray(said.value)
        ? said.value.join(', ')
        : JSON.stringify(said.value).replaceAll('"', '');
  }
}

const printed = card.parts.flatMap(({ states, title, lines }) =>
  states.flatMap((state) =>
    lines.flatMap(({ says, means }) =>
      says.map((phrase) => [title, state, phrase, means] as const),
    ),
  ),
);

describe('When somebody says what the card prints', () => {
  it.each(printed)('%s (%s): “%s” is %s', (_, state, phrase, means) => {
    const expectation = expectations[state]!;
    expect(meaningOf(interpreter.understand(phrase, expectation))).toBe(means);
  });

  it('every state that a walk listens in has its part', () => {
    const states = new Set(card.parts.flatMap((part) => part.states));
    expect([...states].sort()).toEqual(Object.keys(expectations).sort());
  });
});
