import { appendFileSync } from 'node:fs';
import { afterAll } from 'vitest';
import { StateMachine, type AnyActorScope, type InspectionEvent } from 'xstate';
import { keyOf, type Arrow } from './transitionKeys.ts';

/**
 * Set up before each test file of `npm run reached`: writes down every arrow that any machine takes,
 * one a line, into the file named by the environment.
 */
const file = process.env.GLOVESIDE_REACHED;
if (file === undefined) throw new Error('GLOVESIDE_REACHED: no file to write to');

const taken = new Set<string>();
const watched = new WeakSet();
const { prototype } = StateMachine;
const { getInitialSnapshot, restoreSnapshot } = prototype;

function watch({ system }: AnyActorScope): void {
  if (watched.has(system)) return;
  watched.add(system);
  system.inspect(look);
}

// Before the first state is entered, for arrows that need no event.
prototype.getInitialSnapshot = function watchedFromTheStart(scope, input) {
  watch(scope);
  return getInitialSnapshot.call(this, scope, input);
};
prototype.restoreSnapshot = function watchedAfterAll(snapshot, scope) {
  watch(scope);
  return restoreSnapshot.call(this, snapshot, scope);
};

function look(event: InspectionEvent): void {
  if (event.type !== '@xstate.microstep') return;
  for (const transition of event._transitions as unknown as readonly Arrow[])
    taken.add(keyOf(transition));
}

afterAll(() => {
  if (taken.size > 0) appendFileSync(file, `${[...taken].join('\n')}\n`);
});
