import { expect, test } from 'vitest';
import { grammarFiles } from '../../tests/support/grammarFiles.ts';
import { inputFor } from '../../tests/support/typedWalk.ts';
import { candidates, graduate, shortProcedure } from '../../tests/support/walkBench.ts';
import { createInterpreter } from '../grammar/interpreter.ts';
import { millilitres } from '../measure/volume.ts';
import { warmGrammars } from './warmGrammars.ts';

test('When a walk begins, the grammars of its container are made before they are asked for', () => {
  const interpreter = createInterpreter(grammarFiles());
  const made: unknown[] = [];
  warmGrammars(
    {
      earGrammar: (expectation) => {
        const grammar = interpreter.earGrammar(expectation);
        made.push(grammar);
        return grammar;
      },
    },
    { procedure: shortProcedure, container: graduate, ounceIn: 30, servings: [] },
  );
  const [proposed] = candidates(400);
  if (proposed === undefined) throw new Error('no number');
  const common = { container: graduate, ounceIn: 30 } as const;
  // The very same ones: nothing is made anew at the step, whatever was kept or read by then.
  expect([
    interpreter.earGrammar({ state: 'reading', ...common, fills: candidates(25) }),
    interpreter.earGrammar({ state: 'readback', ...common, proposed }),
  ]).toEqual(made);
  expect(interpreter.earGrammar({ state: 'reading', ...common, fills: [] })).toBe(made[0]);
  expect(interpreter.earGrammar({ state: 'readback', ...common, proposed })).toBe(made[1]);
});

test('When there is no container, nothing is made', () => {
  warmGrammars(
    {
      earGrammar: () => {
        throw new Error('not to be made');
      },
    },
    { procedure: shortProcedure, container: null, ounceIn: 30, servings: [] },
  );
});

test('When a tray is to be recorded, its grammar is made with the names of its servings', () => {
  const made: unknown[] = [];
  const { procedure } = inputFor('oral-intake');
  if (procedure === undefined) throw new Error('no procedure');
  const servings = [{ id: 'a', label: 'Iced tea', size: millilitres(300), kind: 'fluid' } as const];
  const interpreter = createInterpreter(grammarFiles());
  warmGrammars(
    {
      earGrammar: (expectation) => {
        made.push(expectation);
        return interpreter.earGrammar(expectation);
      },
    },
    { procedure, container: null, ounceIn: 30, servings },
  );
  expect(made).toEqual([{ state: 'tray', servings }]);
});
