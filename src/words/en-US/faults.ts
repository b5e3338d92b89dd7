export interface FaultWords {
  /** One line: what is wrong. */
  readonly title: string;
  /** What to do about it. */
  readonly todo: string;
}

/** The ear's faults as the aide sees and hears them. */
export const faults = {
  microphone_denied: {
    title: 'The microphone is not allowed',
    todo: 'Allow the microphone for this page in the browser, then try again. You can type when your hands are clean.',
  },
  microphone_missing: {
    title: 'There is no microphone',
    todo: 'Plug in or switch on a microphone, then try again. You can type when your hands are clean.',
  },
  microphone_lost: {
    title: 'The microphone went away',
    todo: 'Another app may have taken it. Try again. What you read so far is kept.',
  },
  engine_missing: {
    title: 'This browser can not listen',
    todo: 'Type when your hands are clean, or open the page in a current browser.',
  },
  engine_silent: {
    title: 'The ear does not start',
    todo: 'Try again. If it stays silent, type when your hands are clean.',
  },
  engine_failed: {
    title: 'The ear stopped',
    todo: 'Try again. What you read so far is kept.',
  },
  language_missing: {
    title: 'The ear does not know this language',
    todo: 'Choose another ear at the unit’s settings, or type when your hands are clean.',
  },
  remote_refused: {
    title: 'Sound would leave this device',
    todo: 'The unit has not allowed it. Choose the ear on this device, or type.',
  },
  sound_suspended: {
    title: 'The browser waits for a tap',
    todo: 'Tap once to go on listening.',
  },
} as const satisfies Record<string, FaultWords>;
