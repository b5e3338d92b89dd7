import type { Amount } from '../charting/amount.ts';
import type { AlertRaised, EntryDrafted, Fact } from '../charting/events.ts';
import type { Evidence, HeardWords } from '../charting/evidence.ts';
import type { SaidVolume } from '../conversation/said.ts';
import type { WalkContext } from '../conversation/walkContext.ts';
import { isAlertCode } from '../measure/alerts.ts';
import { alerts } from '../words/en-US/alerts.ts';
import { findings } from '../words/en-US/findings.ts';

/** One walk as the ledger takes it: the entry, what was not told yet, and the end of the walk. */
export function entryFacts(context: WalkContext, newId: () => string): Fact[] {
  return [
    draftOf(context),
    ...alertFacts(context, newId),
    ...toldFindings(context, newId),
    { type: 'walk.ended', walk: context.ids.walk, outcome: 'completed', reason: '' },
  ];
}

/** The alerts of a walk that the ledger does not have yet. */
export function alertFacts(context: WalkContext, newId: () => string): AlertRaised[] {
  return context.alerts
    .filter(({ kept }) => !kept)
    .map(({ code, words }) => {
      const told = alerts[isAlertCode(code) ? code : 'somethingWrong'].tell(context.bed.label);
      return alertOf(context, newId(), code, words === '' ? told : `${told} (“${words}”)`, null);
    });
}

/** What weighing said is to be told: it stays open until a nurse takes it. */
function toldFindings(context: WalkContext, newId: () => string): AlertRaised[] {
  const found = context.settled?.findings ?? [];
  return found
    .filter(({ severity }) => severity === 'tell')
    .map(({ code, figures }) =>
      alertOf(context, newId(), code, findings[code].screen(figures), context.ids.entry),
    );
}

function alertOf(
  { bed, ids }: WalkContext,
  alert: string,
  code: string,
  words: string,
  entry: string | null,
): AlertRaised {
  return { type: 'alert.raised', alert, code, words, bed: bed.label, walk: ids.walk, entry };
}

function draftOf(context: WalkContext): EntryDrafted {
  const { settled, parked, procedure } = context;
  return {
    type: 'entry.drafted',
    entry: context.ids.entry,
    walk: context.ids.walk,
    bed: context.bed.label,
    kind: procedure.fluid,
    amount: amountOf(context),
    candidates: parked?.candidates ?? [],
    readAt: settled?.readAt ?? parked?.readAt ?? null,
    reader: context.initials,
    procedure: procedure.id,
    container: context.container?.label ?? null,
    bag: context.bag?.label ?? null,
    evidence: evidenceOf(context),
    note: '',
  };
}

function amountOf({ settled, procedure }: WalkContext): Amount | null {
  if (procedure.method === 'unmeasured') return { method: 'unmeasured', count: 1 };
  if (settled === null) return null;
  const fills = settled.fills.flatMap((fill) =>
    fill.fills.length > 0 ? fill.fills : fill.mL === null ? [] : [fill.mL],
  );
  return { method: procedure.method, mL: settled.amount, fills };
}

function evidenceOf({ settled, parked, looks }: WalkContext): Evidence {
  const said = [...((settled ?? parked)?.disputed ?? []), ...(settled?.fills ?? [])];
  return {
    heard: said.map(heardOf),
    readBack: settled?.readBack ?? null,
    answer: settled?.answer ?? null,
    tries: ((settled ?? parked)?.tries ?? 0) + 1,
    findings: ((settled ?? parked)?.findings ?? []).map(({ code, figures }) => ({
      code,
      numbers: figures,
    })),
    looks: looks.flatMap(({ codes, words }) => codes.map((code) => ({ code, words }))),
    working: null,
  };
}

function heardOf({ evidence, mL, doubtful }: SaidVolume): HeardWords {
  return {
    ear: evidence.ear,
    at: evidence.at.ms,
    alternatives: evidence.alternatives,
    fit: doubtful ? 'doubtful' : 'taken',
    made: mL,
  };
}
