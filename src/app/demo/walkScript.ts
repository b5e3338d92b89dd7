import type { Expectation } from '../../grammar/expectation.ts';

/** What a simulated aide says through one walk. */
export interface WalkScript {
  /** Ids of the demo wing and of the procedure. */
  readonly bed: string;
  readonly procedure: string;
  /** What the container really shows, mL. */
  readonly level: number;
  /** What is said when it is asked for: first a wrong line, then the right one. The last is repeated. */
  readonly readings: readonly string[];
  readonly onward: string;
  readonly yes: string;
  readonly no: string;
  /** What is said at a step before it is gone on from, by the step's id. */
  readonly aside: Readonly<
    Record<string, { readonly words: string; readonly to: 'resident' | 'assistant' }>
  >;
}

/** What the aide remembers of what she said. */
export interface AideMemory {
  /** Steps at which the aside was said. */
  readonly asides: readonly string[];
  /** How often the level was said. */
  readonly readings: number;
}

export const freshMemory: AideMemory = { asides: [], readings: 0 };

export interface Line {
  readonly words: string;
  readonly to: 'resident' | 'assistant';
  /** What she remembers once it was heard. */
  readonly then: AideMemory;
}

/** What the aide says next, at this step, when this may be said; null where she has nothing to say. */
export function nextLine(
  script: WalkScript,
  step: string,
  expectation: Expectation,
  memory: AideMemory,
): Line | null {
  const toAssistant = (words: string, then = memory): Line => ({ words, to: 'assistant', then });
  switch (expectation.state) {
    case 'reading': {
      const last = script.readings.length - 1;
      const words = script.readings[Math.min(memory.readings, last)];
      if (words === undefined) return null;
      return toAssistant(words, { ...memory, readings: memory.readings + 1 });
    }
    case 'readback':
      return toAssistant(expectation.proposed === script.level ? script.yes : script.no);
    case 'step':
    case 'check':
    case 'look': {
      const aside = script.aside[step];
      if (aside === undefined || memory.asides.includes(step)) return toAssistant(script.onward);
      return { ...aside, then: { ...memory, asides: [...memory.asides, step] } };
    }
    default:
      return null;
  }
}

/** Every sentence of a script, so that it can be made ready ahead of time. */
export function sentencesOf(script: WalkScript): readonly string[] {
  const asides = Object.values(script.aside).map(({ words }) => words);
  return [...new Set([script.onward, ...asides, ...script.readings, script.no, script.yes])];
}
