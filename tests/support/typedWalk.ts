import { judged } from '../../src/conversation/judged.ts';
import type { WalkInput } from '../../src/conversation/walkContext.ts';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { defaultBags } from '../../src/measure/bags.ts';
import { defaultContainers } from '../../src/measure/containers.ts';
import { defaultPads } from '../../src/measure/pads.ts';
import { defaultServings } from '../../src/measure/servings.ts';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { grammarFiles } from './grammarFiles.ts';
import { noon, startWalk, walkInput } from './walkBench.ts';

const interpreter = createInterpreter(grammarFiles());

/** A whole procedure of the program, with the vessels, pads and servings that a unit starts from. */
export function inputFor(id: string, more: Partial<WalkInput> = {}): Partial<WalkInput> {
  const procedure = builtIn.find((each) => each.id === id);
  if (procedure === undefined) throw new Error(`no procedure ${id}`);
  const { containers, bags, fluid } = procedure;
  return {
    procedure,
    container: defaultContainers.find(({ item }) => containers.includes(item.kind))?.item ?? null,
    bag: defaultBags.find(({ item }) => bags?.includes(item.kind) === true)?.item ?? null,
    pad: defaultPads.find(({ item }) => item.id === 'pad-large')?.item ?? null,
    servings: defaultServings.map(({ item }) => item),
    others: builtIn,
    circumstances: { ...walkInput.circumstances, bag: null, kind: fluid },
    ...more,
  };
}

/** The real machines and the real grammars; what is said is typed. */
export function typedWalk(
  id: string,
  more: Partial<WalkInput> = {},
  faults: Parameters<typeof startWalk>[1] = {},
) {
  const walk = startWalk(inputFor(id, more), faults);
  let ms = noon.ms;

  /** Say something as soon as the assistant listens; the minute moves with each utterance. */
  const say = async (...sentences: string[]) => {
    for (const transcript of sentences) {
      await walk.quiet();
      const ear = walk.actor.getSnapshot().children.ear?.getSnapshot();
      const expectation = ear?.context.expectation;
      if (!ear?.hasTag('micOpen') || !expectation) throw new Error(`not listening: ${transcript}`);
      ms += 60_000;
      const at = { ...noon, ms };
      const alternatives = [{ transcript, confidence: 1 }];
      const hearing = { ear: 'typed', alternatives, fit: 'taken', at: ms } as const;
      await walk.send(judged(hearing, expectation, interpreter, at));
    }
  };

  const { steps } = walk.context().procedure;
  /** Say "next" until a step is called. */
  const until = async (step: string) => {
    for (const _ of steps) {
      await walk.quiet();
      const { procedure, index } = walk.context();
      if (procedure.steps[index]?.id === step) return;
      await say('next step');
    }
    throw new Error(`never at ${step}`);
  };
  /** Say "next" until the walk is over. */
  const toEnd = async () => {
    for (let turn = 0; turn < 40 && walk.state() !== 'done'; turn++) await say('next step');
  };
  return { ...walk, say, until, toEnd, said: () => walk.spoken.at(-1) ?? '' };
}
