import type { OneWord } from './compileRules.ts';
import type { Action, Value } from './compileTag.ts';

/**
 * One rule over certain kinds of words: each path is one way to take them. Steps count words from the
 * first of the span, so it serves wherever these kinds stand.
 */
export interface Span {
  readonly paths: readonly Path[];
  /** While one utterance is read; kept longer, they would outlive the young heap. */
  values: readonly Value[] | null;
  /** The word that the values start at. */
  base: number;
  readonly length: number;
  /** Values by the very words, where none of them is a written number; a few words come again. */
  readonly byWords: Map<string, readonly Value[]> | null;
}
export type Path = readonly Step[];
export type Step =
  | { readonly type: 'tag'; readonly action: Action }
  | { readonly type: 'word'; readonly at: number; readonly table: ReadonlyMap<number, OneWord> }
  | { readonly type: 'shape'; readonly at: number }
  | { readonly type: 'rule'; readonly at: number; readonly span: Span };

/** Spans of so few words keep their values. */
const mostRemembered = 5;

export const emptySpan: Span = { paths: [], values: null, base: 0, length: 0, byWords: null };

/** @param ids - the words of the utterance that the paths were found in, from `start` on */
export function makeSpan(
  paths: readonly Path[],
  ids: readonly number[],
  start: number,
  length: number,
): Span {
  const isKept = length <= mostRemembered && isWordsOnly(paths, ids, start);
  return { paths, values: null, base: 0, length, byWords: isKept ? new Map() : null };
}

/** Whether no value of the span can come from a written number. */
function isWordsOnly(paths: readonly Path[], ids: readonly number[], start: number): boolean {
  return paths.every((path) =>
    path.every((step) => {
      if (step.type === 'shape') return false;
      if (step.type === 'rule') return step.span.byWords !== null || step.span.paths.length === 0;
      return step.type === 'tag' || step.table.get(ids[start + step.at]!) !== 'own';
    }),
  );
}

/** A span that only hands on another is passed over. */
export function stepTo(span: Span, at: number): Step {
  const path = span.paths.length === 1 ? span.paths[0]! : undefined;
  const [only, after] = path ?? [];
  const isHandedOn = after === undefined || (after.type === 'tag' && after.action.kind === 'take');
  if (path && path.length <= 2 && only?.type === 'rule' && isHandedOn)
    return { type: 'rule', at: at + only.at, span: only.span };
  return { type: 'rule', at, span };
}
