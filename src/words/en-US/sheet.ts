import { amountText } from './numbers.ts';

const some = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

/** What the sheet shows, on the screen and on paper. */
export const sheet = {
  title: 'Sheet',
  heading: 'Intake and output',
  loading: 'Adding up',
  failed: 'The record could not be read.',
  failedHelp: 'Nothing is lost. Try again; if it stays so, tell whoever set up the unit.',
  again: 'Try again',
  empty: 'Nothing was recorded for this bed on this day.',
  emptyWing: 'Nothing was recorded in this shift.',

  controls: {
    name: 'What is shown',
    bed: 'Bed',
    date: 'Day',
    before: 'Day before',
    after: 'Day after',
    oneBed: 'One bed, one day',
    wing: 'Whole wing, one shift',
    shift: 'Shift',
    print: 'Print',
    review: 'Review these entries',
  },

  head: {
    day: (date: string, from: string, to: string) => `${date}, from ${from} to ${to}`,
    hours: (hours: number) => `a day of ${hours} hours: the clocks were changed`,
    shift: (name: string, date: string, from: string, to: string) =>
      `${name}, ${date}, from ${from} to ${to}`,
    made: (when: string) => `Made ${when}`,
  },

  table: {
    caption: (bed: string, date: string) => `Intake and output of ${bed}, ${date}, by hour`,
    hour: 'Hour',
    intake: 'Intake (mL)',
    output: 'Output (mL)',
    balance: 'Balance (mL)',
    all: 'All',
    confirmed: 'confirmed',
    withWaiting: 'with waiting',
    day: (hours: number) => `${hours} h total`,
    shift: (name: string, from: string, to: string) => `${name} ${from}–${to}`,
  },

  shifts: { day: 'Day', evening: 'Evening', night: 'Night' },

  cells: {
    waiting: (mL: string) => `(${mL})`,
    waitingSaid: 'waiting',
    estimated: (mL: string) => `≈${mL}`,
    estimatedSaid: 'estimated',
    unmeasured: (count: number) => `${count}×`,
    unmeasuredSaid: 'not measured',
    partial: '*',
    partialSaid: 'not the whole balance',
    nothingSaid: 'nothing recorded',
  },

  notes: {
    title: 'How to read it',
    waiting: '(350) waits for review and is not yet counted as confirmed.',
    withWaiting: '“With waiting” adds what is not yet confirmed.',
    estimated: '≈150 is an estimate. It is kept apart and not added to measured amounts.',
    unmeasured: '1× is an episode that was not measured. It is counted, never 0 mL.',
    partial: '* Estimates and what was not measured stand beside this balance, not in it.',
    open: (count: number) =>
      `${some(count, 'entry is', 'entries are')} still open and in no sum. Settle it in the review.`,
    struck: (count: number) =>
      `${some(count, 'entry was', 'entries were')} struck out and ${count === 1 ? 'counts' : 'count'} nowhere.`,
    care: 'A sum of what was recorded, nothing more. The care plan and licensed staff decide what it means.',
  },

  wing: {
    title: 'Whole wing',
    caption: (name: string, date: string) => `All beds, ${name}, ${date}`,
    bed: 'Bed',
    intake: 'Intake (mL)',
    output: 'Output (mL)',
    balance: 'Balance (mL)',
    open: 'Still open',
    total: 'All beds',
  },

  chart: {
    title: 'Hour by hour',
    label: (intake: number, output: number, balance: string) =>
      `Bars for each hour: in all ${amountText(intake)} taken in, ${amountText(output)} put out. The line is the balance, at the end ${balance} mL. The same figures stand in the table.`,
    intake: 'in',
    output: 'out',
    waiting: 'waits for review',
    balance: 'balance',
    unit: 'all in mL',
  },

  /** For the reviewer: the figures of a day that is over. */
  figures: { title: 'Urine of this day, measured' },

  files: {
    title: 'Files',
    explain: 'The file is put on this device. Nothing is sent anywhere.',
    fhir: 'FHIR bundle (JSON)',
    fhirUpdate: 'FHIR bundle with changes (JSON)',
    fhirHint:
      'The first adds what the receiver does not have yet. The second also brings entries up to date that were amended or struck out since. Either can be taken in twice.',
    csv: 'Spreadsheet (CSV)',
    backup: 'Whole record (backup)',
    restore: 'Bring a backup back',
    restoreHint: 'Events that are here already stay as they are. A broken file changes nothing.',
    cancel: 'Stop',
    working: (done: number, all: number | null) =>
      all === null ? `${done} events` : `${done} of ${all} events`,
    saved: (name: string) => `Saved as ${name}.`,
    restored: (added: number, known: number) =>
      `Brought back: ${some(added, 'event', 'events')} added, ${known} were here already.`,
    stopped: 'Stopped. Nothing was changed.',
    stoppedHalfway:
      'Stopped on the way. What came back so far is sound. Bring the backup back again to go on.',
    failed: (why: string) => `This did not work. ${why}`,
  },
} as const;
