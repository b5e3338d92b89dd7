import { spelled } from './numbers.ts';

const some = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

const minutes = (value: number): string =>
  value === 0 ? 'hundred' : value < 10 ? `oh ${spelled(value)}` : spelled(value);

/** What is handed to the next shift, to read and to say. Times and amounts, never what they mean. */
export const handover = {
  title: 'Handover',
  loading: 'Gathering',
  failed: 'The record could not be read.',
  failedHelp: 'Nothing is lost. Try again; if it stays so, tell whoever set up the unit.',
  again: 'Try again',
  since: (clock: string, date: string) => `Since ${clock}, ${date}`,
  sinceName: 'Since',
  choices: { last: 'my last look', shift: 'the shift began', day: '24 hours ago' },
  made: (when: string) => `Made ${when}`,
  say: 'Say it aloud',
  stop: 'Stop',
  print: 'Print',
  nothing: 'Nothing new since then, nothing told, nobody due.',
  quietBeds: (beds: string) => `Nothing new: ${beds}.`,
  words: 'The words',

  tell: 'Told and not yet taken',
  due: 'Due',
  beds: 'Bed by bed',
  bedless: 'No bed named',
  bedlessEntries: (count: number) =>
    `${some(count, 'entry names', 'entries name')} no bed. Settle it in the review.`,
  told: (clock: string, by: string) => `told ${clock} by ${by}`,
  dueAt: (kind: string, clock: string) => `${kind}: due ${clock}`,
  overdue: (kind: string, span: string, clock: string) =>
    `${kind}: ${span} past due, last reading ${clock}`,
  columns: {
    bed: 'Bed',
    entries: 'Times and amounts (mL)',
    intake: 'In (mL)',
    output: 'Out (mL)',
  },
  open: 'still open',
  sums: 'In and out here count what waits for review too.',
  care: 'Times and amounts as they were recorded. The care plan and licensed staff decide what they mean.',

  /** Said aloud: short sentences, numbers in words. */
  aloud: {
    begin: (clock: string) => `Handover, since ${clock}.`,
    nothing: 'Nothing new. Nothing is open to tell. Nobody is due.',
    tellBegin: (count: number) =>
      `${some(count, 'thing is', 'things are')} told and not yet taken.`,
    tell: (bed: string, words: string) => `${bed}. ${words}`,
    dueBegin: 'Due.',
    overdue: (bed: string, kind: string, span: string) => `${bed}, ${kind}, ${span} past due.`,
    due: (bed: string, kind: string, clock: string) => `${bed}, ${kind}, at ${clock}.`,
    bed: (bed: string, parts: string) => `${bed}. ${parts}.`,
    entry: (kind: string, clock: string, amount: string) => `${kind} at ${clock}: ${amount}`,
    amount: (mL: number) => `${spelled(mL)} milliliters`,
    estimate: (mL: number) => `about ${spelled(mL)} milliliters`,
    unmeasured: (count: number) =>
      count === 1 ? 'one episode, not measured' : `${spelled(count)} episodes, not measured`,
    open: 'number still open',
    waiting: (count: number) => `${some(count, 'entry waits', 'entries wait')} for review.`,
    quiet: (beds: string) => `Nothing new for ${beds}.`,
    /** `0642` as it is said: "six forty-two", 1400 as "fourteen hundred". */
    clock: (hour: number, minute: number) => `${spelled(hour)} ${minutes(minute)}`,
    end: 'End of handover.',
  },
} as const;
