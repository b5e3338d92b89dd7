import type { WalkInput } from '../conversation/walkContext.ts';
import type { Expectation } from '../grammar/expectation.ts';
import type { Interpreter } from '../grammar/interpreter.ts';

type Warmed = Pick<WalkInput, 'procedure' | 'container' | 'ounceIn' | 'servings'>;

/**
 * Make the grammars that are dear, before the step that needs them: those that list a container's
 * lines, up to 90 ms each, and that of a tray with the unit's own names. While the first step is spoken
 * nobody waits for them.
 */
export function warmGrammars(
  interpreter: Pick<Interpreter, 'earGrammar'>,
  { procedure, container, ounceIn, servings }: Warmed,
): void {
  if (procedure.steps.some(({ kind }) => kind === 'intake')) {
    interpreter.earGrammar({ state: 'tray', servings });
  }
  if (container === null) return;
  const expectations: readonly Expectation[] = [
    { state: 'reading', container, ounceIn, fills: [] },
    { state: 'readback', container, ounceIn, proposed: container.lineStep },
  ];
  for (const expectation of expectations) interpreter.earGrammar(expectation);
}
