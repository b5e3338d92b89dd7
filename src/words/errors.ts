export interface ErrorWords {
  /** One line: what is wrong. */
  readonly title: string;
  /** What to do about it. */
  readonly todo: string;
}

const typeLater = 'You can type when your hands are clean.';
const writeItDown = 'Write the number down now. It stays in this page and is tried again.';

/**
 * The catalogue of what may go wrong, by code. Codes are stable: tests and records match on them,
 * never on the sentences.
 */
export const errors = {
  microphone_denied: {
    title: 'The microphone is not allowed',
    todo: `Allow the microphone for this page in the browser, then try again. ${typeLater}`,
  },
  microphone_missing: {
    title: 'There is no microphone',
    todo: `Plug in or switch on a microphone, then try again. ${typeLater}`,
  },
  microphone_lost: {
    title: 'The microphone went away',
    todo: 'Another app may have taken it. Try again. What you read so far is kept.',
  },
  engine_missing: {
    title: 'This browser can not listen',
    todo: `Open the page in a current browser. ${typeLater}`,
  },
  engine_silent: {
    title: 'The ear does not start',
    todo: `Try again. If it stays silent: ${typeLater.toLowerCase()}`,
  },
  engine_failed: {
    title: 'The ear stopped',
    todo: 'Try again. What you read so far is kept.',
  },
  language_missing: {
    title: 'The ear does not know this language',
    todo: `Choose another ear in the unit’s settings. ${typeLater}`,
  },
  remote_refused: {
    title: 'Sound would leave this device',
    todo: 'The unit has not allowed it. Choose the ear on this device, or type.',
  },
  sound_suspended: {
    title: 'The browser waits for a tap',
    todo: 'Tap the button once to go on listening.',
  },
  voice_missing: {
    title: 'No voice speaks on this device',
    todo: 'The words stand on the screen. Place it where you can read them.',
  },
  storage_full: {
    title: 'This device has no room left',
    todo: `${writeItDown} Free some space, or save a backup file.`,
  },
  storage_refused: {
    title: 'This browser does not let the page keep anything',
    todo: `${writeItDown} A private window keeps nothing: use a normal one.`,
  },
  storage_blocked: {
    title: 'An older window of this app holds the record',
    todo: `${writeItDown} Close the other windows of this app.`,
  },
  storage_closed: {
    title: 'The browser closed the record',
    todo: `${writeItDown} Reload the page if this stays.`,
  },
  storage_vanished: {
    title: 'The record of this device is gone',
    todo: 'The browser or a person removed it. Tell whoever sets up the unit, and restore a backup.',
  },
  storage_newer: {
    title: 'A newer version of this app made the record',
    todo: 'Reload the page to get the newer version. The record is untouched.',
  },
  storage_failed: {
    title: 'The record could not be written',
    todo: `${writeItDown} If it stays, save a backup file and tell whoever sets up the unit.`,
  },
  not_writer: {
    title: 'Another window of this app is writing the record',
    todo: 'Go on in that window, or take over here.',
  },
  event_differs: {
    title: 'Two events with one number say different things',
    todo: 'Nothing was changed. Save a backup file and tell whoever sets up the unit.',
  },
  chain_forked: {
    title: 'Two histories claim the same place in the record',
    todo: 'Nothing was changed. Save a backup file and tell whoever sets up the unit.',
  },
  event_edited: {
    title: 'This event was changed after it was recorded',
    todo: 'Keep a backup of the record as it is, and tell whoever sets up the unit.',
  },
  event_missing: {
    title: 'An event is missing here',
    todo: 'Keep a backup of the record as it is, and tell whoever sets up the unit.',
  },
  event_reordered: {
    title: 'This event stands in another order than it was written',
    todo: 'Keep a backup of the record as it is, and tell whoever sets up the unit.',
  },
  event_replaced: {
    title: 'This event does not follow the one before it: one of the two was put in',
    todo: 'Keep a backup of the record as it is, and tell whoever sets up the unit.',
  },
  event_forked: {
    title: 'This place in the record is there twice',
    todo: 'Keep a backup of the record as it is, and tell whoever sets up the unit.',
  },
  event_malformed: {
    title: 'This line is not an event of the record',
    todo: 'Nothing was restored. Use another copy of the backup.',
  },
  version_newer: {
    title: 'A newer version of this app wrote this',
    todo: 'Reload the page to get the newer version.',
  },
  backup_malformed: {
    title: 'This line is not a line of a backup',
    todo: 'Nothing was restored. Choose a file that this app saved as a backup.',
  },
  backup_cut: {
    title: 'The file ends too early',
    todo: 'Nothing was restored. Copy the file again, or use another copy.',
  },
  backup_extra: {
    title: 'There is more in the file than it says it holds',
    todo: 'Nothing was restored. Use another copy of the backup.',
  },
  backup_checksum: {
    title: 'The file was changed after it was made',
    todo: 'Nothing was restored. Use another copy of the backup.',
  },
  backup_newer: {
    title: 'A newer version of this app made this backup',
    todo: 'Nothing was restored. Reload the page to get the newer version first.',
  },
  backup_too_long: {
    title: 'This file is longer than a backup can be',
    todo: 'Nothing was restored. Choose a file that this app saved as a backup.',
  },
  seal_broken: {
    title: 'The record can not be opened with this key',
    todo: 'Check the PIN. The recovery code opens it if the PIN is lost.',
  },
  lock_broken: {
    title: 'The lock of this device can not be read',
    todo: 'Tell whoever sets up the unit. The record stays sealed; a backup brings it back on another device.',
  },
  setup_only: {
    title: 'Only whoever sets the unit up may change this',
    todo: 'Sign in with that role, or ask them.',
  },
  setup_missing: {
    title: 'Nobody who sets the unit up would have a PIN',
    todo: 'Give another person that role and a PIN first. Nothing was changed.',
  },
  clock_set_back: {
    title: 'The clock of this device stands before the last entry',
    todo: 'Set the clock right, then try again. Nothing was written.',
  },
  reading_in_future: {
    title: 'The reading would lie in the future',
    todo: 'Check the time of the reading and the clock of this device.',
  },
  time_malformed: {
    title: 'This is not a time of the clock',
    todo: 'Write it with 24 hours, for example 0642 or 06:42.',
  },
  time_skipped: {
    title: 'This time was never on the clock',
    todo: 'The clocks were set forward over it that night. Write another time.',
  },
  time_twice: {
    title: 'This time was on the clock twice',
    todo: 'The clocks were set back that night. Say whether it was the second time.',
  },
  bed_unknown: {
    title: 'This bed is not on the unit’s list',
    todo: 'Choose a bed from the list, or add it in the unit’s settings.',
  },
  unit_broken: {
    title: 'The unit’s settings can not be read',
    todo: 'The defaults are in use. Import the unit’s file again.',
  },
  walk_broken: {
    title: 'The unfinished walk can not be read',
    todo: 'Begin it anew. Entries that were saved are not touched.',
  },
  procedure_broken: {
    title: 'A procedure file breaks the rules for procedures',
    todo: 'It is left out. The lines below it say what to change.',
  },
} as const satisfies Record<string, ErrorWords>;

export type ErrorCode = keyof typeof errors;

/** The entry of a code as one text. */
export function errorText(code: ErrorCode): string {
  const { title, todo } = errors[code];
  return `${title}. ${todo}`;
}
