/** The lock of the unit: its screen, its part of the set-up, and the tab that follows another. */
export const lock = {
  title: 'The unit is locked',
  intro: 'What is kept on this device is sealed until somebody of the unit signs in.',
  initials: 'Your initials',
  pin: 'PIN',
  passcode: 'Passcode of the unit',
  keypad: 'Keypad',
  rubOut: 'Take back one',
  open: 'Unlock',
  trying: 'One moment …',
  wrong: {
    pins: 'These initials and this PIN do not open the unit. Try again.',
    unit: 'This passcode does not open the unit. Try again.',
  },
  wait: (seconds: number) =>
    seconds < 60
      ? `Too many wrong tries. Wait ${seconds} s, then try again.`
      : `Too many wrong tries. Wait ${Math.ceil(seconds / 60)} min, then try again.`,
  forgot: {
    title: 'I do not know it any more',
    person:
      'Ask somebody who sets the unit up. They sign in with their own PIN and give you a new one under Unit, “Lock and safe keeping”. Nothing of the record is lost.',
    code: 'If nobody can: the recovery code that was written down when the lock was put on opens the unit once you type it here.',
    label: 'Recovery code',
    use: 'Unlock with the code',
    wrong: 'This is not the recovery code of this unit. Look at each letter again.',
  },

  mark: { none: 'No lock', noneHint: 'What is kept on this device can be read by anybody.' },
  lockNow: 'Lock',

  follower: {
    title: 'Open in another window',
    text: 'Another window of this app writes. This one shows what it writes.',
    more: 'Go on in the other window, or take over here. A walk on its way there is then gone on with here, from where it stood.',
    takeOver: 'Take over here',
    elsewhere:
      'This place is open in the window that writes. Review, Sheet and Handover show what it writes.',
  },

  part: {
    glance: {
      none: 'no lock',
      unit: 'a passcode for the unit',
      pins: 'a PIN for each person',
    },
    setupOnly: 'The lock is on. Only somebody who sets the unit up may change what stands here.',
    choose: 'How is this unit locked?',
    kinds: {
      none: 'No lock: for practice and for trying it out',
      unit: 'One passcode for the whole unit',
      pins: 'A PIN for each person',
    },
    about: {
      none: 'Everything on this device can be read by anybody who holds it. The page says “No lock” at the top.',
      unit: 'Everything on this device is sealed. Whoever knows the passcode is in, and says who they are by choosing their initials.',
      pins: 'Everything on this device is sealed. Initials and role come from the PIN, and nobody signs for another.',
    },
    whose: 'Whose PIN is the first? (somebody who sets the unit up)',
    nobody:
      'Nobody here sets the unit up. Give somebody that role under “Who works here” and save, then come back.',
    pin: 'PIN (6 to 12 figures)',
    again: 'The same again',
    passcode: 'Passcode (6 or more signs)',
    newPin: (who: string) => `New PIN for ${who} (6 to 12 figures)`,
    newPasscode: 'New passcode (6 or more signs)',
    faults: {
      short: 'Too short. Use 6 or more.',
      figures: 'Use figures only, 6 to 12 of them: the keypad has no others.',
      easy: 'Too easy to guess. Take another.',
      different: 'The two are not the same.',
    },
    make: 'Make the lock',
    working: 'One moment …',
    code: {
      title: 'Recovery code',
      text: 'This opens the unit when every PIN is forgotten. It is shown once and kept nowhere. Write it down by hand and lock it away, not in this device.',
      done: 'It is written down and put away',
      seal: 'Seal the record now',
      close: 'Done',
    },
    stopped: 'Stopped: no lock is on, and nothing was lost. The code that was shown is void.',
    stoppedOff: 'Stopped: the lock is still on, and nothing was lost.',
    sealing: (done: number) => `Sealing … ${done} events. Leave this page open.`,
    opening: (done: number) => `Opening … ${done} events. Leave this page open.`,
    notDone: (why: string) => `Not done, and nothing is lost. ${why}`,
    busy: 'Not now: a walk is on its way, or something is not saved yet.',
    recovered:
      'You came in with the recovery code. Give yourself a new PIN, then make a new code: this one was seen.',
    members: 'PINs',
    has: 'has a PIN',
    hasNot: 'no PIN yet',
    set: (who: string) => `Set a PIN for ${who}`,
    change: (who: string) => `New PIN for ${who}`,
    changePasscode: 'New passcode',
    save: 'Set it',
    cancel: 'Cancel',
    saved: (who: string) => `${who} has a new PIN. The old one opens nothing.`,
    savedPasscode: 'The new passcode is in use. The old one opens nothing.',
    gone: 'Whoever is taken off “Who works here” loses the PIN as soon as that is saved.',
    idle: 'Lock by itself after (minutes)',
    idleHint:
      'Counted from the last touch or the last spoken word. Never while gloves are on: the number stays, and so does the walk.',
    idleSaved: (minutes: number) => `Locks by itself after ${minutes} min.`,
    newCode: 'Make a new recovery code',
    off: 'Take the lock off',
    offSure:
      'Everything on this device can then be read by anybody who holds it. Take the lock off all the same?',
    offYes: 'Yes, take it off',
    notes: 'What the lock saw in the last seven days',
    noNotes: 'Nothing.',
    noteWhat: {
      unlocked: 'unlocked',
      locked: 'locked',
      recovered: 'opened with the recovery code',
    },
    tries: (count: number, last: string) =>
      `came in after ${count} wrong ${count === 1 ? 'try' : 'tries'}, the last ${last}`,
  },

  keeping: {
    title: 'Will the browser keep it?',
    granted: 'Yes. The browser has promised not to clear what is kept here by itself.',
    refused:
      'It has not promised. When this device runs out of room the browser may clear the record. Install the app on this device, keep room free, and take a backup each shift.',
    unknown:
      'This browser does not say. Keep room free on this device, and take a backup each shift.',
    room: (used: string, quota: string) => `${used} of ${quota} are in use.`,
  },
} as const;
