import { alertsRaised, isAlertCode, type AlertCode } from '../measure/alerts.ts';
import type { Moment } from '../measure/moment.ts';
import type { Procedure, Step } from '../procedures/schema.ts';
import { wordsFor } from '../words/words.ts';
import type { Parked, ReadingInput, Settled } from './readingMachine.ts';
import type { TrayInput } from './trayMachine.ts';
import { stepOf, type Handover, type WalkContext } from './walkContext.ts';
import { nurseText, settledText, withWhom } from './walkWords.ts';

/** The step of a procedure where its amount is got; none where an episode is only counted. */
export function amountStep({ steps }: Procedure): Step | undefined {
  return steps.find(({ kind }) => kind === 'reading' || kind === 'weigh' || kind === 'intake');
}

/** Which machine gets the amount of this procedure. */
export function takenBy({ procedure }: WalkContext): 'reading' | 'tray' {
  return amountStep(procedure)?.kind === 'intake' ? 'tray' : 'reading';
}

/** What the step calls for, or, at the end, what was left open. */
function callFor(context: WalkContext, openAtEnd: string): string {
  const step = stepOf(context);
  const call = step.kind === 'document' ? openAtEnd : step.call;
  return context.lead === '' ? call : `${context.lead} ${call}`;
}

export function readingInput(context: WalkContext): ReadingInput {
  const { locale, container, pad, ounceIn, circumstances, settled, parked } = context;
  const isWeighed = amountStep(context.procedure)?.kind === 'weigh';
  if (isWeighed ? pad === null : container === null) {
    throw new Error('reading_without_vessel: container and pad are chosen before the gloves');
  }
  return {
    locale,
    container: isWeighed ? null : container,
    pad: isWeighed ? pad : null,
    ounceIn,
    circumstances,
    call: callFor(context, wordsFor(locale).walk.openAtEnd),
    why: stepOf(context).why,
    before: settled,
    fills: parked?.fills ?? [],
  };
}

export function trayInput(context: WalkContext): TrayInput {
  const { locale, servings, settled, parked } = context;
  return {
    locale,
    servings,
    call: callFor(context, wordsFor(locale).walk.tray.openAtEnd),
    why: stepOf(context).why,
    before: settled,
    fills: parked?.fills ?? [],
  };
}

/** The outcome of a reading, kept, and what is said of it next. */
export function withOutcome(
  context: WalkContext,
  outcome: Settled | Parked,
): Pick<WalkContext, 'settled' | 'parked' | 'readingOpen' | 'lead'> {
  if (outcome.outcome === 'parked') {
    return { settled: null, parked: outcome, readingOpen: false, lead: '' };
  }
  const lead = settledText(outcome, context.locale, context.nurse);
  return { settled: outcome, parked: null, readingOpen: false, lead };
}

/** The alerts are kept with their moment, and the answer says what to do about each. */
export function withAlerts(
  context: WalkContext,
  codes: readonly AlertCode[],
  words: string,
  at: Moment,
): Pick<WalkContext, 'alerts' | 'answer'> {
  const raised = codes.map((code) => ({ code, words, at, kept: false }));
  const told = withWhom(
    codes.map((code) => nurseText(code, context.locale)).join(' '),
    context.nurse,
  );
  const answer = wordsFor(context.locale).walk.nurse(told);
  return { alerts: [...context.alerts, ...raised], answer };
}

/** What one phrase raises for this person. */
export function alertsOf(code: string, { dysreflexiaRisk }: WalkContext): AlertCode[] {
  return alertsRaised(isAlertCode(code) ? code : 'somethingWrong', dysreflexiaRisk);
}

/** The procedure that takes over where the step called, or a check before it, fails. */
export function successorOf(context: WalkContext): Procedure | undefined {
  const { steps } = context.procedure;
  const step = stepOf(context);
  const id =
    step.kind === 'weigh'
      ? steps.slice(0, context.index).findLast(({ otherwise }) => otherwise !== undefined)
          ?.otherwise
      : step.otherwise;
  return context.others.find((procedure) => procedure.id === id);
}

type Moved = Pick<
  WalkContext,
  'procedure' | 'index' | 'settled' | 'parked' | 'handover' | 'lead' | 'talk'
>;

/** Another procedure takes over. What was done stays done: gloved hands stay in their gloves. */
export function handedOver(context: WalkContext, words: string, at: Moment): Moved {
  const procedure = successorOf(context);
  if (procedure === undefined) throw new Error('handover_to_nothing: guarded by canHandOver');
  const { index } = context;
  const gloving = procedure.steps.findIndex(({ marks }) => marks.includes('glovesOn'));
  const landed = stepOf(context).gloved ? gloving + 1 : 0;
  const handover: Handover = { from: context.procedure, index, landed, words, at };
  const lead = wordsFor(context.locale).walk.handedOver(procedure.title);
  return { procedure, index: landed, settled: null, parked: null, handover, lead, talk: null };
}

/** Go back over a handover: the first procedure stands again at the step that was left. */
export function handedBack(context: WalkContext, { from, index }: Handover): Moved {
  const lead = wordsFor(context.locale).walk.handedBack(from.title);
  const rest = { settled: null, parked: null, handover: null, talk: null };
  return { procedure: from, index, lead, ...rest };
}
