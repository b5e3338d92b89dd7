import { describe, expect, it } from 'vitest';
import type { Expectation } from '../../src/grammar/expectation.ts';
import type { Value } from '../../src/grammar/match/compileTag.ts';
import { createInterpreter, type Understood } from '../../src/grammar/interpreter.ts';
import { defaultContainers } from '../../src/measure/containers.ts';
import { defaultPads } from '../../src/measure/pads.ts';
import { defaultServings } from '../../src/measure/servings.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { card } from '../../src/words/en-US/card.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

const interpreter = createInterpreter(grammarFiles());
const container = defaultContainers[0]!.item;
const pad = defaultPads[0]!.item;
const servings = defaultServings.map(({ item }) => item);
const expectations: Readonly<Record<string, Expectation>> = {
  step: { state: 'step' },
  held: { state: 'held' },
  look: { state: 'look' },
  reading: { state: 'reading', container, ounceIn: 30, fills: [] },
  weighing: { state: 'weighing', pad },
  weighed: { state: 'weighed', pad },
  tray: { state: 'tray', servings },
  trayReadback: { state: 'trayReadback', servings },
  counting: { state: 'counting' },
  initials: { state: 'initials', roster: ['MK'] },
  choosing: { state: 'choosing', beds: ['Bed 4'], procedures: ['drainage-bag'] },
  chosen: { state: 'chosen', beds: ['Bed 4'], procedures: ['drainage-bag'] },
  readback: { state: 'readback', container, ounceIn: 30, proposed: millilitres(350) },
};

/** Codes, or parts by name, in one order. */
function partsOf(value: Value): string {
  if (typeof value !== 'object') return String(value);
  if (Array.isArray(value)) return value.join(', ');
  const parts = Object.entries(value).map(([name, part]) => `${name}:${JSON.stringify(part)}`);
  return parts.sort().join(',').replaceAll('"', '');
}

function meaningOf(said: Understood): string {
  switch (said.kind) {
    case 'command':
      return said.command;
    case 'volume':
      return String(said.reading.mL);
    case 'talk':
      return `talk: ${said.reason}`;
    default:
      return partsOf(said.value);
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
