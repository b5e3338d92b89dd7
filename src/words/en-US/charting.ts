/** What the record says of itself: refusals, faults of keeping, and the words of the files it makes. */
export const charting = {
  /** Why something was not kept; title first, then what to do. */
  faults: {
    storage_full: {
      title: 'This device has no room left',
      todo: 'What you did is kept while this page is open, and tried again. Save it as a file, then make room.',
    },
    storage_refused: {
      title: 'This browser does not let the app keep anything',
      todo: 'Leave the private window, or allow storage for this page. Save what is open as a file first.',
    },
    storage_blocked: {
      title: 'Another tab holds the record',
      todo: 'Close the other tabs of the app. What you did is kept here and tried again.',
    },
    storage_closed: {
      title: 'The browser closed the record',
      todo: 'What you did is kept here and tried again. If it stays so, save it as a file and reload.',
    },
    storage_vanished: {
      title: 'The record on this device is gone',
      todo: 'Save what is open as a file now. Then bring the record back from a backup.',
    },
    storage_newer: {
      title: 'A newer version of the app made this record',
      todo: 'Reload to get the newer version. The record is untouched.',
    },
    storage_failed: {
      title: 'The record could not be written',
      todo: 'What you did is kept here and tried again. If it stays so, save it as a file.',
    },
    not_writer: {
      title: 'Another tab writes the record',
      todo: 'Go on in the other tab, or take over here.',
    },
    event_differs: {
      title: 'This is in the record already, with other content',
      todo: 'Nothing was changed. Verify the record, and keep both files.',
    },
    chain_forked: {
      title: 'Two parts of the record claim the same place',
      todo: 'Nothing was changed. Verify the record.',
    },
    seal_broken: {
      title: 'The record can not be opened with this PIN',
      todo: 'Unlock again. If it stays so, the record was changed: keep a copy and tell whoever set up the unit.',
    },
    clock_set_back: {
      title: 'The clock of this device was set back',
      todo: 'Set it right. If it is right now, say so, and the entry is kept with this time.',
    },
    reading_in_future: {
      title: 'This time lies in the future',
      todo: 'Look at the time of the reading, and at the clock of this device.',
    },
    time_malformed: {
      title: 'This is not a time of the clock',
      todo: 'Write it with 24 hours, for example 0642 or 06:42.',
    },
    time_skipped: {
      title: 'This time did not happen',
      todo: 'The clocks were set forward over it that night. Choose another time.',
    },
    time_twice: {
      title: 'This time happened twice',
      todo: 'The clocks were set back that night. Say whether it was the first or the second time.',
    },
  },

  /** Why a backup was not taken; the line it was found in stands beside it. */
  backup: {
    backup_malformed: 'This line is not a line of a backup.',
    backup_cut: 'The file ends too early.',
    backup_extra: 'There is more in the file than it says it holds.',
    backup_checksum: 'The file was changed after it was made.',
    backup_newer: 'A newer version of the app made this backup. Update the app first.',
    backup_too_long: 'This file is longer than a backup can be.',
    event_malformed: 'This line is not an event of the record.',
    event_edited: 'This event was changed after it was recorded.',
    event_missing: 'Events before this line are missing.',
    event_reordered: 'This event stands in the wrong place.',
    event_replaced: 'This event does not follow the one before it.',
    event_forked: 'This place in the record is there twice.',
    atLine: (line: number, words: string) => `Line ${line}: ${words} Nothing was restored.`,
    restored: (added: number, known: number) =>
      `${added} events restored, ${known} were there already.`,
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
    fault: (where: string, seq: number, what: string) => `${where}, event ${seq}: ${what}`,
    what: {
      event_edited: 'it was changed after it was recorded.',
      event_missing: 'it is missing.',
      event_reordered: 'it stands in another order than it was written.',
      event_replaced: 'it does not follow the event before it. One of the two was put in.',
      event_forked: 'this place is there twice.',
    },
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
    partial: 'Estimated amounts or unmeasured episodes stand beside this figure.',
  },
} as const;
