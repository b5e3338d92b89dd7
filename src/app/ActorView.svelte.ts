import { createSubscriber } from 'svelte/reactivity';
import type { AnyActorRef, SnapshotFrom } from 'xstate';
import { watchAll } from './watchAll.ts';

/**
 * The bridge from XState to runes: a running actor's snapshot as reactive state.
 *
 * Whoever reads `current` inside a template or a derived is told of the next snapshot, of the actor and
 * of its children: a reading is a child, and its number changes while its parent stays as it is. The
 * view neither starts nor stops the actor.
 */
export class ActorView<Ref extends AnyActorRef> {
  readonly ref: Ref;
  readonly #track: () => void;

  constructor(ref: Ref) {
    this.ref = ref;
    this.#track = createSubscriber((changed) => watchAll(ref, changed));
  }

  get current(): SnapshotFrom<Ref> {
    this.#track();
    return this.ref.getSnapshot() as SnapshotFrom<Ref>;
  }
}
