import type { WalkInput } from '../conversation/walkContext.ts';
import type { Expectation } from '../grammar/expectation.ts';
import type { Interpreter } from '../grammar/interpreter.ts';

/**
 * Make the grammars that listing a container's lines makes dear, up to 90 ms each, before the step
 * that needs them: while the first step is spoken nobody waits for them.
 */
export function warmGrammars(
  interpreter: Pick<Interpreter, 'earGrammar'>,
  { container, ounceIn }: Pick<WalkInput, 'container' | 'ounceIn'>,
): void {
  if (container === null) return;
  const expectations: readonly Expectation[] = [
    { state: 'reading', container, ounceIn, fills: [] },
    { state: 'readback', container, ounceIn, proposed: container.lineStep },
  ];
  for (const expectation of expectations) interpreter.earGrammar(expectation);
}
