import type { Amount } from '../charting/amount.ts';
import type { AlertRaised, EntryDrafted, Fact } from '../charting/events.ts';
import type { Evidence, HeardWords, Working } from '../charting/evidence.ts';
import { siblingUuid } from '../charting/uuid.ts';
import type { SaidVolume } from '../conversation/said.ts';
import { isTray } from '../conversation/tray.ts';
import type { WalkContext } from '../conversation/walkContext.ts';
import { isAlertCode } from '../measure/alerts.ts';
import { sumOf } from '../measure/volume.ts';
import { alerts } from '../words/en-US/alerts.ts';
import { findings } from '../words/en-US/findings.ts';
import { wordsFor } from '../words/words.ts';

/** One walk as the ledger takes it: the entry, what was not told yet, and the end of the walk. */
export function entryFacts(context: WalkContext): Fact[] {
  return [
    ...draftsOf(context),
    ...alertFacts(context),
    ...toldFindings(context),
    { type: 'walk.ended', walk: context.ids.walk, outcome: 'completed', reason: '' },
  ];
}

/** The alerts of a walk that it does not know to be in the ledger, each with an id of its own place. */
export function alertFacts(context: WalkContext): AlertRaised[] {
  return context.alerts.flatMap(({ code, words, kept }, index) => {
    if (kept) return [];
    const told = alerts[isAlertCode(code) ? code : 'somethingWrong'].tell(context.bed.label);
    const id = siblingUuid(context.ids.walk, index);
    return [alertOf(context, id, code, words === '' ? told : `${told} (“${words}”)`, null)];
  });
}

/** What weighing said is to be told: it stays open until a nurse takes it. */
function toldFindings(context: WalkContext): AlertRaised[] {
  const found = context.settled?.findings ?? [];
  return found
    .filter(({ severity }) => severity === 'tell')
    .map(({ code, figures }, index) => {
      const id = siblingUuid(context.ids.event, index);
      return alertOf(context, id, code, findings[code].screen(figures), context.ids.entry);
    });
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

/** A tray with measured and estimated parts makes two entries: they are never one figure. */
function draftsOf(context: WalkContext): EntryDrafted[] {
  const [first, ...others] = amountsOf(context);
  return [
    draftOf(context, first ?? null, context.ids.entry),
    ...others.map((amount, index) =>
      draftOf(context, amount, siblingUuid(context.ids.entry, index)),
    ),
  ];
}

function draftOf(context: WalkContext, amount: Amount | null, entry: string): EntryDrafted {
  const { settled, parked, counted, handover, procedure } = context;
  const { walk } = wordsFor(context.locale);
  return {
    type: 'entry.drafted',
    entry,
    walk: context.ids.walk,
    bed: context.bed.label,
    kind: procedure.fluid,
    amount,
    candidates: parked?.candidates ?? [],
    readAt: settled?.readAt ?? counted?.at ?? parked?.readAt ?? null,
    reader: context.reader,
    procedure: procedure.id,
    container: vesselOf(context),
    bag: handover === null ? (context.bag?.label ?? null) : null,
    evidence: evidenceOf(context),
    note: handover === null ? '' : walk.handoverNote(handover.from.title, handover.words),
  };
}

/** What it was read in or weighed as; a procedure that took over has neither. */
function vesselOf({ container, pad, handover }: WalkContext): string | null {
  return handover === null ? (container?.label ?? pad?.label ?? null) : null;
}

function amountsOf({ settled, counted, procedure }: WalkContext): Amount[] {
  if (procedure.method === 'unmeasured') {
    return counted === null ? [] : [{ method: 'unmeasured', count: 1 }];
  }
  if (settled === null) return [];
  if (isTray(settled.fills)) return trayAmounts(settled.fills);
  const fills = settled.fills.flatMap((fill) =>
    fill.fills.length > 0 ? fill.fills : fill.mL === null ? [] : [fill.mL],
  );
  return [{ method: procedure.method, mL: settled.amount, fills }];
}

function trayAmounts(servings: readonly SaidVolume[]): Amount[] {
  return (['measured', 'estimated'] as const).flatMap((method) => {
    const fills = servings.flatMap(({ mL, item }) =>
      item?.method === method && mL !== null ? [mL] : [],
    );
    return fills.length === 0 ? [] : [{ method, mL: sumOf(fills), fills }];
  });
}

/** How the amount was worked out: a pad's two weights, or each serving of a tray. */
function workingOf({ settled, parked, pad }: WalkContext): Working | null {
  const fills = (settled ?? parked)?.fills ?? [];
  const wet = fills.at(-1)?.wet;
  if (wet !== undefined && pad !== null) {
    return { code: 'weighedPad', numbers: { wetGrams: wet, dryGrams: pad.dry } };
  }
  if (!isTray(fills)) return null;
  const numbers = fills.flatMap(({ item, mL }, index) => {
    if (item === undefined || mL === null) return [];
    const name = `${index + 1} ${item.serving.id}`;
    const left = 'left' in item.said ? [[`${name} left mL`, item.said.left] as const] : [];
    return [
      [`${name} served mL`, item.serving.size] as const,
      ...left,
      [`${name} ${item.method} mL`, mL] as const,
    ];
  });
  return { code: 'tray', numbers: Object.fromEntries(numbers) };
}

function evidenceOf(context: WalkContext): Evidence {
  const { settled, parked, counted, looks } = context;
  const { walk } = wordsFor(context.locale);
  const said = [...((settled ?? parked)?.disputed ?? []), ...((settled ?? parked)?.fills ?? [])];
  return {
    heard: said.map(heardOf),
    readBack: settled?.readBack ?? (counted === null ? null : walk.count.ask),
    answer: settled?.answer ?? counted?.words ?? null,
    tries: ((settled ?? parked)?.tries ?? 0) + 1,
    findings: ((settled ?? parked)?.findings ?? []).map(({ code, figures }) => ({
      code,
      numbers: figures,
    })),
    looks: looks.flatMap(({ codes, words }) => codes.map((code) => ({ code, words }))),
    working: workingOf(context),
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
