import type { AnyStateMachine, AnyStateNode } from 'xstate';

/** An arrow of a machine, whatever it carries. */
export interface Arrow {
  readonly source: object;
  /** Empty where it needs no event. */
  readonly eventType: string;
}

/** A name for one arrow: its state, its event, its place among those of that event. */
export function keyOf(arrow: Arrow): string {
  const source = arrow.source as AnyStateNode;
  const { eventType } = arrow;
  const place = (arrowsOf(source).get(eventType) ?? []).indexOf(arrow);
  return `${source.id} on ${eventType === '' ? 'nothing' : eventType} #${place + 1}`;
}

/** Every arrow of a machine: events, delays, ends and errors of actors, and those without an event. */
export function allKeys(machine: AnyStateMachine): string[] {
  const found: string[] = [];
  const visit = (node: AnyStateNode) => {
    for (const list of arrowsOf(node).values()) found.push(...list.map(keyOf));
    for (const child of Object.values(node.states)) visit(child as AnyStateNode);
  };
  visit(machine.root as AnyStateNode);
  return found;
}

function arrowsOf(node: AnyStateNode): ReadonlyMap<string, readonly Arrow[]> {
  const always = (node.always ?? []) as unknown as readonly Arrow[];
  return new Map([...(node.transitions as ReadonlyMap<string, readonly Arrow[]>), ['', always]]);
}
