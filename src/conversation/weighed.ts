import type { Finding, FindingCode } from '../measure/finding.ts';
import { weigh, type Circumstances as Known } from '../measure/findings.ts';
import type { FluidKind } from '../measure/fluid.ts';
import type { PadProduct } from '../measure/pad.ts';
import type { Container } from '../measure/vessel.ts';
import type { Millilitres } from '../measure/volume.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { SaidVolume } from './said.ts';

/** What is known when the walk starts: the bag, the bed's earlier amounts, the unit's limits. */
export interface Circumstances extends Known {
  readonly kind: FluidKind;
}

/** A volume that was questioned, and for what: said again, it stands against that question. */
export interface Questioned {
  readonly mL: Millilitres | null;
  readonly codes: readonly (FindingCode | 'approximate')[];
}

/** What weighing made of a volume: a question to put, or null when it may be read back. */
export interface Weighed {
  readonly question: string | null;
  readonly questioned: Questioned;
  readonly findings: readonly Finding[];
}

/** Where the number comes from: lines, or a scale with a pad on it. */
interface Vessel {
  readonly circumstances: Circumstances;
  readonly container: Container | null;
  readonly pad: PadProduct | null;
}

/** What can not be, however often it is said. */
const impossible: ReadonlySet<FindingCode> = new Set(['aboveContainer', 'aboveFill']);

/** Read back with its digits in any case, so it needs no question of its own. */
const readBackAnyway: FindingCode = 'soundAlike';

/**
 * Weigh what was said: findings for the record, and at most one question for the aide.
 *
 * A person who says the same number again after a question insists, and is believed, except where
 * the vessel can not hold it.
 */
export function weighed(
  volume: SaidVolume,
  kept: readonly Millilitres[],
  { circumstances, container, pad }: Vessel,
  before: Questioned | null,
  locale: Locale,
): Weighed {
  const { walk, findingVoice } = wordsFor(locale);
  const { mL, candidates } = volume;
  if (mL === null) {
    const question =
      pad !== null && volume.wet !== undefined
        ? walk.weigh.belowDry(volume.wet, pad.dry)
        : candidates.length > 0
          ? walk.whichOf(candidates)
          : walk.notVolume;
    return { question, questioned: { mL, codes: [] }, findings: [] };
  }
  const insisted = before?.mL === mL ? before.codes : [];
  const findings = allFindings(volume, mL, kept, circumstances, container);
  const asks = findings.find(
    ({ code, severity }) =>
      severity === 'ask' &&
      code !== readBackAnyway &&
      (impossible.has(code) || !insisted.includes(code)),
  );
  if (asks !== undefined) {
    const question = findingVoice(asks.code, 'ask', asks.figures);
    return { question, questioned: { mL, codes: [...insisted, asks.code] }, findings };
  }
  if (volume.approximate && !insisted.includes('approximate')) {
    const codes = [...insisted, 'approximate' as const];
    return { question: walk.approximate(mL), questioned: { mL, codes }, findings };
  }
  return { question: null, questioned: { mL, codes: insisted }, findings };
}

/** Fills said in one breath are each checked against the container, the sum against the rest. */
function allFindings(
  volume: SaidVolume,
  mL: Millilitres,
  kept: readonly Millilitres[],
  circumstances: Circumstances,
  container: Container | null,
): Finding[] {
  const parts = volume.fills.length > 0 ? volume.fills : [mL];
  const { at } = volume.evidence;
  return parts.flatMap((part, index) => {
    const last = index === parts.length - 1;
    const reading = {
      mL: part,
      fills: [...kept, ...parts.slice(0, index)],
      container,
      kind: circumstances.kind,
      at: at.ms,
      soundAlike: last ? volume.soundAlike : [],
    };
    const found = weigh(reading, circumstances);
    return last
      ? found
      : found.filter(({ code }) => impossible.has(code) || code === 'betweenLines');
  });
}

/** What of the findings stays with a fill when another follows; rates belong to the whole sum. */
export function ofThisFill(findings: readonly Finding[]): Finding[] {
  return findings.filter(({ code }) => fillCodes.has(code));
}

const fillCodes: ReadonlySet<FindingCode> = new Set([
  'betweenLines',
  'vesselErrorWiderThanTolerance',
  'soundAlike',
]);
