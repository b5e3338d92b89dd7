import { createSubscriber } from 'svelte/reactivity';
import type { AnyActorRef, SnapshotFrom } from 'xstate';

/**
 * The bridge from XState to runes: a running actor's snapshot as reactive state.
 *
 * Whoever reads `current` inside a template or a derived is told of the next snapshot. The view
 * neither starts nor stops the actor.
 */
export class ActorView<Ref extends AnyActorRef> {
  readonly ref: Ref;
  readonly #track: () => void;

  constructor(ref: Ref) {
    this.ref = ref;
    this.#track = createSubscriber((changed) => {
      const watching = ref.subscribe(changed);
      return () => {
        watching.unsubscribe();
      };
    });
  }

  get current(): SnapshotFrom<Ref> {
    this.#track();
    return this.ref.getSnapshot() as SnapshotFrom<Ref>;
  }
}
