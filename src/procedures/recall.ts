import type { Step } from './schema.ts';

/** What a trainee's own words made of the next step. */
export type RecallVerdict =
  /** The step that comes next. */
  | 'right'
  /** A step that comes later: those between are named in `skipped`. */
  | 'tooEarly'
  /** A step that was named already. */
  | 'again'
  /** No step of this procedure. */
  | 'unclear';

export interface Judgement {
  readonly verdict: RecallVerdict;
  /** The step that the words name, or null. */
  readonly named: string | null;
  /** Ids of the steps passed over, in their order. */
  readonly skipped: readonly string[];
  /** Those of them that are critical. */
  readonly criticalSkipped: readonly string[];
}

/** A recall under way. Steps are named one after another, from memory. */
export interface Recall {
  readonly steps: readonly Step[];
  /** Index of the step that is to be named; `steps.length` at the end. */
  readonly next: number;
  /** Named in their turn. */
  readonly right: readonly string[];
  /** Had to be told. */
  readonly missed: readonly string[];
  /** Named before their turn, and which step was due then. */
  readonly outOfOrder: readonly { readonly named: string; readonly due: string }[];
}

export interface RecallResult {
  readonly right: readonly string[];
  readonly missed: readonly string[];
  readonly criticalMissed: readonly string[];
  readonly outOfOrder: Recall['outOfOrder'];
  /** Critical steps that were passed over when a later one was named. */
  readonly criticalPassedOver: readonly string[];
  readonly complete: boolean;
  /** Complete, nothing missed, nothing out of order. */
  readonly clean: boolean;
}

export function startRecall(steps: readonly Step[]): Recall {
  return { steps, next: 0, right: [], missed: [], outOfOrder: [] };
}

/** Judge what the trainee said against the step that is due. Words that name no step change nothing. */
export function recallSaid(
  recall: Recall,
  said: string,
): { readonly recall: Recall; readonly judgement: Judgement } {
  const { steps, next } = recall;
  const due = steps[next];
  if (due === undefined) return { recall, judgement: judged('unclear', null, []) };
  const named = stepsNamed(steps, said);
  if (named.includes(next)) {
    return {
      recall: { ...recall, next: next + 1, right: [...recall.right, due.id] },
      judgement: judged('right', due, []),
    };
  }
  const later = named.find((index) => index > next);
  const step = later === undefined ? undefined : steps[later];
  if (later !== undefined && step !== undefined) {
    return {
      recall: {
        ...recall,
        outOfOrder: [...recall.outOfOrder, { named: step.id, due: due.id }],
      },
      judgement: judged('tooEarly', step, steps.slice(next, later)),
    };
  }
  const [earlier] = named;
  const before = earlier === undefined ? undefined : steps[earlier];
  return {
    recall,
    judgement: before === undefined ? judged('unclear', null, []) : judged('again', before, []),
  };
}

/** Tell the trainee the step that is due: it counts as missed. */
export function recallTold(recall: Recall): Recall {
  const due = recall.steps[recall.next];
  if (due === undefined) return recall;
  return { ...recall, next: recall.next + 1, missed: [...recall.missed, due.id] };
}

/** How a recall went so far. It says what happened and certifies nothing. */
export function recallResult({ steps, next, right, missed, outOfOrder }: Recall): RecallResult {
  const critical = new Set(steps.filter((step) => step.critical).map(({ id }) => id));
  const at = (id: string): number => steps.findIndex((step) => step.id === id);
  const passed = outOfOrder.flatMap(({ named, due }) =>
    steps.slice(at(due), at(named)).map(({ id }) => id),
  );
  const complete = next >= steps.length;
  return {
    right,
    missed,
    criticalMissed: missed.filter((id) => critical.has(id)),
    outOfOrder,
    criticalPassedOver: [...new Set(passed)].filter((id) => critical.has(id)),
    complete,
    clean: complete && missed.length === 0 && outOfOrder.length === 0,
  };
}

/**
 * The steps that a sentence names best: one word of every list of the step's key words stands in
 * it, and no other step finds more of its words there.
 *
 * @returns indexes in their order
 */
export function stepsNamed(steps: readonly Pick<Step, 'keywords'>[], said: string): number[] {
  const words = new Set(wordsOf(said));
  const scores = steps.map(({ keywords }) => scoreOf(keywords, words));
  const best = Math.max(...scores);
  return best === 0 ? [] : scores.flatMap((score, index) => (score === best ? [index] : []));
}

function scoreOf(keywords: Step['keywords'], words: ReadonlySet<string>): number {
  const has = (word: string): boolean => wordsOf(word).every((part) => words.has(part));
  const complete = keywords.every((group) => group.some(has));
  return complete ? new Set(keywords.flat().filter(has)).size : 0;
}

function wordsOf(text: string): string[] {
  return text.toLowerCase().match(/[a-z]+/g) ?? [];
}

function judged(verdict: RecallVerdict, named: Step | null, between: readonly Step[]): Judgement {
  return {
    verdict,
    named: named?.id ?? null,
    skipped: between.map(({ id }) => id),
    criticalSkipped: between.filter(({ critical }) => critical).map(({ id }) => id),
  };
}
