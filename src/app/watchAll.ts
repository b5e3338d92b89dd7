import type { AnyActorRef, Subscription } from 'xstate';

/** Watch an actor and those under it, also those that come later; gives the end of watching. */
export function watchAll(ref: AnyActorRef, changed: () => void): () => void {
  const watched = new Map<AnyActorRef, Subscription | null>();
  const watch = (actor: AnyActorRef): void => {
    if (watched.has(actor)) return;
    watched.set(actor, null);
    const over = () => {
      watched.delete(actor);
      changed();
    };
    const next = () => {
      watchChildren(actor);
      changed();
    };
    // An error is the parent's to handle; without an ear here it would be reported as unhandled.
    const watching = actor.subscribe({ next, error: over, complete: over });
    if (watched.has(actor)) watched.set(actor, watching);
    watchChildren(actor);
  };
  const watchChildren = (actor: AnyActorRef): void => {
    const { children = {} } = actor.getSnapshot() as {
      children?: Readonly<Record<string, AnyActorRef | undefined>>;
    };
    for (const child of Object.values(children)) if (child !== undefined) watch(child);
  };
  watch(ref);
  return () => {
    for (const watching of watched.values()) watching?.unsubscribe();
  };
}
