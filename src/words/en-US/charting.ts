/** What the record says of itself, and the words of the files it makes. */
export const charting = {
  backup: {
    /** Why it was not taken, with the line where that was found. */
    atLine: (line: number, words: string) => `Line ${line}: ${words}. Nothing was restored.`,
  },

  /** Whether the record is what was written, as a reviewer reads it. */
  intact: {
    checking: (done: number, all: number) => `Checking the record: ${done} of ${all} events`,
    progress: 'Checking the record',
    stop: 'Stop',
    stopped: (done: number, all: number) =>
      `The check was stopped: ${done} of ${all} events are looked at.`,
    goOn: 'Go on',
    intact: 'Record intact',
    looked: (events: number, devices: number) =>
      `${events} ${events === 1 ? 'event' : 'events'} of ${devices} ${devices === 1 ? 'device' : 'devices'}: none changed, taken out or put in another order.`,
    again: 'Check it all again',
    failed: 'The record could not be read to its end, so it is not known whether it is intact.',
    retry: 'Try again',
    broken: 'The record is not intact',
    brokenHelp:
      'This app changes nothing and takes nothing out. Save a backup now, keep it, and tell whoever set up the unit.',
    here: 'This device',
    device: (mark: string) => `Device ${mark}`,
    fault: (where: string, seq: number, what: string) => `${where}, event ${seq}: ${what}.`,
    reads: (what: string, by: string, when: string) => `It now reads: ${what}, ${by}, ${when}.`,
    events: {
      'entry.drafted': 'entry drafted',
      'entry.confirmed': 'entry confirmed',
      'entry.amended': 'entry amended',
      'entry.struck': 'entry struck out',
      'decision.undone': 'decision taken back',
      'entry.viewed': 'entry looked at',
      'page.viewed': 'page looked at',
      'alert.raised': 'nurse to be told',
      'alert.taken': 'nurse knows of it',
      'walk.started': 'procedure begun',
      'walk.ended': 'procedure ended',
      'lock.noted': 'device locked or unlocked',
    },
    more: (count: number) => `And ${count} more.`,
  },

  statuses: {
    preliminary: 'preliminary (not confirmed)',
    final: 'final (confirmed)',
    amended: 'amended (changed after it was confirmed)',
    reopened: 'amended (its confirmation was taken back; waits to be confirmed again)',
    'entered-in-error': 'entered-in-error (struck out, does not count)',
  },
  methods: { measured: 'measured', estimated: 'estimated', unmeasured: 'not measured' },

  /** Heads of the table file: each says what its column holds. */
  columns: {
    entry: 'Entry id',
    bed: 'Bed',
    direction: 'Direction (intake or output)',
    kind: 'Kind of fluid',
    amount: 'Amount (mL; empty when not measured or still open)',
    method: 'Method (measured, estimated or not measured)',
    episodes: 'Episodes not measured (count; never 0 mL)',
    readAt: 'Time of reading (ISO 8601 with UTC offset)',
    reader: 'Read by (initials)',
    recordedAt: 'Time recorded (ISO 8601 with UTC offset)',
    lag: 'Minutes from reading to record',
    status: 'Status (HL7 FHIR word and what it means)',
    confirmedBy: 'Confirmed by (initials)',
    confirmedAt: 'Time confirmed (ISO 8601 with UTC offset)',
    reason: 'Reason of the last change',
    original: 'Amount first recorded (mL)',
    note: 'Note',
  },
  directions: { intake: 'intake', output: 'output' },

  /** Texts inside the interchange files. */
  exchange: {
    openKind: 'Fluid, kind not known yet',
    intakeTotal: 'Fluid intake, total',
    outputTotal: 'Fluid output, total',
    balance: 'Fluid balance, intake minus output',
    reopened: 'Its confirmation was taken back. It waits to be confirmed again.',
    episodes: 'Episodes',
    fill: 'Fill',
    late: (minutes: number) => `Recorded ${minutes} minutes after the reading.`,
    candidates: (mL: readonly number[]) => `Amount still open; heard: ${mL.join(' or ')} mL.`,
    waiting: (mL: number) => `${mL} mL of this wait for confirmation.`,
    partial: 'What was estimated or not measured stands beside this figure.',
  },
} as const;
