/** A span as hours and minutes: `2 h 10 min`. */
const hoursText = (ms: number): string => {
  const minutes = Math.floor(ms / 60_000);
  const hours = Math.floor(minutes / 60);
  return hours === 0 ? `${minutes} min` : `${hours} h ${minutes % 60} min`;
};

/** What was done when, for a glance from bed to bed. */
const lastOf = {
  urineCatheter: 'bag emptied',
  urineVoided: 'voided',
  urinePad: 'pad weighed',
  emesis: 'vomited',
  ostomy: 'pouch emptied',
  stoolLiquid: 'loose stool',
  oralFluid: 'drank',
} as const;

/** Words of the bedside screens that are shown, not spoken. */
export const bedside = {
  title: 'Bedside',
  choose: {
    heading: 'Which bed, and what?',
    bed: 'Bed',
    procedure: 'Procedure',
    container: 'Container',
    bag: 'Bag on the bed',
    pad: 'Product that is weighed',
    padDry: (label: string, dry: number) => `${label}, ${dry} g dry`,
    noPad: 'No dry weight is on file. Somebody weighs a dry one and adds it to the unit first.',
    noContainer: 'No container',
    lines: (lineStep: number) => `a line every ${lineStep} mL`,
    begin: 'Open the ear and begin',
    chooseFirst: 'Choose a bed and a procedure first.',
    beginHint:
      'One tap now: the browser asks for the microphone. After that, put the gloves on and touch nothing.',
    caution:
      'This tool supports your training. The care plan, the facility’s policy and the nurse come first.',
    unfinished: (procedure: string, bed: string) => `${procedure}, ${bed}, is not finished.`,
    goOn: 'Go on where it was',
    last: (kind: keyof typeof lastOf, ms: number, isDue: boolean) =>
      `${lastOf[kind]} ${hoursText(ms)} ago${isDue ? ': due' : ''}`,
    nothingLately: 'nothing in two days',
    byVoice: 'Say it instead',
    byVoiceHint: 'One tap opens the ear. Then say, for example: bed four, drainage bag.',
    byVoiceStop: 'Stop listening',
    earLoaded: 'How much of the ear has come',
    earLoading: 'The ear is loading: about 4 MB, the first time only. Choose meanwhile.',
    earStop: 'Stop loading',
    earStopped: 'The ear is not loaded. It loads when a walk begins, or now.',
    earLoad: 'Load the ear now',
    ear: 'How it listens',
  },
  walk: {
    stepOf: (index: number, count: number) => `Step ${index} of ${count}`,
    critical: 'Must not be missed',
    gloved: 'Gloves on: touch nothing',
    clean: 'No gloves',
    listening: 'Listening',
    speaking: 'Speaking',
    held: 'On hold',
    waiting: 'One moment',
    deaf: 'Not listening',
    typeOnly: 'Waiting for typing',
    earLoading: 'The ear is still loading. Until it hears you, clean hands can tap or type.',
    say: 'You can say',
    notForMe: (words: string) => (words === '' ? 'That was not for me.' : `Not for me: “${words}”`),
    unsureOf: (words: string) => `I could not be sure of “${words}”.`,
    keepFailing: 'This device can not keep the number. Write it down as soon as you can.',
    unsaved: 'Not saved yet. Trying again.',
    buttons: {
      next: 'Next',
      again: 'Say again',
      why: 'Why',
      back: 'Go back',
      hold: 'Hold on',
      carryOn: 'Carry on',
      confirm: 'Correct',
      dispute: 'No',
      number: 'Number?',
      addFill: 'Add a fill',
      noMore: 'That’s all',
      wrong: 'Something is wrong',
    },
    typed: 'Type what you would say',
    typedSend: 'Say it',
    retryEar: 'Try the microphone again',
    abandon: 'Stop this walk',
    abandonAsk: 'Stop here? The number read so far is kept as an open entry.',
    cylinderEmpty: (container: string) => `${container}, no number yet`,
    cylinderAt: (container: string, amount: string) => `${container}, drawn at ${amount}`,
    padWeighed: (wet: number, dry: number) => `${wet} g wet less ${dry} g dry`,
    measured: (amount: string) => `Measured: ${amount}`,
    estimated: (amount: string) => `Estimated: ${amount}`,
    counted: 'One episode, not measured',
    numberKept: 'Kept',
    numberOpen: 'To be agreed to',
    numberParked: 'Open',
    done: 'The entry waits for review.',
    doneOpen: 'The entry is saved with the number open.',
    another: 'Next resident',
    toReview: 'See it in review',
  },
} as const;
