import { createInterpreter, type Interpreter } from '../grammar/interpreter.ts';
import { grammarFiles } from './grammarFiles.ts';

let made: Interpreter | null = null;

/**
 * The interpreter of the app's own grammars, one for all desks. Reading them takes a slow tablet half a
 * second: so not before somebody needs it, or nobody waits.
 */
export const ownInterpreter = (): Interpreter => (made ??= createInterpreter(grammarFiles));
