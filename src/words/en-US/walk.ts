import { amountText, digitByDigit, spelled } from './numbers.ts';

/** What was drunk of a serving, in the words of the tray. */
const parts = {
  all: 'all of it',
  threeQuarters: 'three quarters',
  twoThirds: 'two thirds',
  half: 'half',
  third: 'a third',
  quarter: 'a quarter',
  none: 'none',
} as const;

const volume = (mL: number): string => `${spelled(mL)} ${mL === 1 ? 'milliliter' : 'milliliters'}`;

/** The sums of a tray; measured and estimated ones are never said as one figure. */
const sums = ({ measured, estimated }: { measured: number; estimated: number }): string =>
  [
    ...(measured > 0 || estimated === 0 ? [`${volume(measured)} measured`] : []),
    ...(estimated > 0 ? [`${volume(estimated)} estimated`] : []),
  ].join(', and ');

const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} or ${parts.at(-1)}`;

/** What the assistant says and shows during a walk. Short: the ear is shut while it speaks. */
export const walk = {
  start: (procedure: string, bed: string) => `${procedure}, ${bed}. Say next after each step.`,
  resumed: 'We go on where we were.',
  held: 'On hold. Say carry on when you are ready.',
  carriedOn: 'Carrying on.',
  firstStep: 'This is the first step.',
  help: {
    step: 'You can say: next, say again, why, go back, hold on, or what was the number.',
    reading: 'Say the volume, for example three hundred fifty. Or: say again, go back, hold on.',
    readback: 'Say correct, or say no, or say the right number.',
    held: 'Say carry on.',
    count: 'Say correct to count one episode. Or: say again, why, go back, hold on.',
    otherwise: 'If the check fails, say: it is soiled.',
  },
  /** Said and shown: what was said could not be made out for this reason. */
  poor: {
    loud: 'It is too loud here. Come closer, or say it digit by digit.',
    faint: 'I hear you only faintly. Come closer, or say it digit by digit.',
  },
  noNumberYet: 'There is no number yet.',
  number: (mL: number) => `You read ${spelled(mL)} milliliters.`,
  parkedNumber: (candidates: readonly number[]) =>
    candidates.length === 0
      ? 'The number is still open.'
      : `The number is still open: ${listed(candidates.map(spelled))}.`,
  ask: 'Read the level now. How many milliliters?',
  askFill: (fill: number) => `Fill ${fill}. How many milliliters?`,
  askAgain: 'Say the volume again, please.',
  askDigits: 'Say it digit by digit, please.',
  stillListening: 'I am listening for the volume.',
  noNumberNext: 'I have no number yet. Say the volume, or say next again to leave it open.',
  readBack: (mL: number, digits: boolean) =>
    digits
      ? `${spelled(mL)}: ${digitByDigit(mL)}. Correct?`
      : `${spelled(mL)} milliliters. Correct?`,
  readBackFills: (fills: readonly number[], sum: number) =>
    `${fills.map(spelled).join(', and ')}, together ${spelled(sum)} milliliters. Correct?`,
  sayCorrect: 'Say correct, or say the right number.',
  settled: (mL: number) => `${spelled(mL)} milliliters, kept.`,
  fillKept: (mL: number) => `${spelled(mL)}, kept. Next fill.`,
  whichOf: (candidates: readonly number[]) =>
    `Did you mean ${listed(candidates.map(spelled))}? Say the number.`,
  approximate: (mL: number) => `About ${spelled(mL)}? Look at the line, and say the number on it.`,
  notVolume: 'That was not a volume I can use. Which line is it at?',
  parked: 'I leave the number open. We go on, and settle it when your hands are clean.',
  openAtEnd: 'Your hands are clean. Now settle the number on the screen, or say it.',
  /** A wet pad on the scale. */
  weigh: {
    ask: 'How many grams does the scale show?',
    askAgain: 'Say the grams again, please.',
    stillListening: 'I am listening for the grams.',
    noNumberNext: 'I have no grams yet. Say them, or say next again to leave the amount open.',
    help: 'Say the grams, for example four hundred twelve. If it is soiled, say: it is soiled.',
    readBack: (wet: number) => `${spelled(wet)} grams: ${digitByDigit(wet)}. Correct?`,
    belowDry: (wet: number, dry: number) =>
      `${spelled(wet)} grams is less than this product weighs dry, ${spelled(dry)}. Look again: how many grams?`,
  },
  /** A tray, one serving after the other. */
  tray: {
    ask: 'Which drink, and how much of it?',
    askNext: 'Next drink? Or say: that is all.',
    askAgain: 'Say the drink again, and how much of it.',
    stillListening: 'I am listening for a drink. Or say: that is all.',
    nothingNext: 'I have no drink yet. Say one, or say next again to leave it open.',
    help: 'Say the drink and what is gone, for example juice, half. Or what is left: coffee, one hundred left. At the end: that is all.',
    drunk: (drink: string, part: keyof typeof parts) => `${drink}, ${parts[part]}`,
    left: (drink: string, left: number) => `${drink}, ${spelled(left)} left`,
    readBack: (what: string, mL: number) => `${what}: ${volume(mL)}. Correct?`,
    aboveServed: (drink: string, served: number) =>
      `The ${drink} holds ${volume(served)}. More than that can not be left. How much is left?`,
    kept: (what: string) => `${what}, kept.`,
    sum: (sum: { measured: number; estimated: number }) => `All together: ${sums(sum)}. Correct?`,
    takenBack: (what: string) => `I took back ${what}.`,
    sayCorrect: 'Say correct, or say no.',
    parked: 'I leave the tray open. We go on, and settle it at the end.',
    openAtEnd: 'Now settle the tray. Say the drink that is missing, or say: that is all.',
    number: (sum: { measured: number; estimated: number }) => `You told me ${sums(sum)}.`,
    settled: (sum: { measured: number; estimated: number }) => `${sums(sum)}, kept.`,
    saved: (sum: { measured: number; estimated: number }) =>
      `Entry saved: ${sums(sum)}. It waits for review.`,
  },
  /** An episode that can not be measured. */
  count: {
    ask: 'One episode, not measured. Correct?',
    counted: 'One episode, counted.',
    number: 'One episode is counted. There is no amount.',
    saved: 'Entry saved: one episode, not measured. It waits for review.',
    savedOpen: 'Entry saved, and no episode is counted yet. Tell the reviewer.',
  },
  /** Another procedure takes over. */
  handedOver: (title: string) => `Then it is not measured. We go on with: ${title}.`,
  handedBack: (title: string) => `Back to: ${title}.`,
  handoverNote: (title: string, words: string) =>
    words === '' ? `Handed over from: ${title}.` : `Handed over from: ${title} (“${words}”).`,
  /** Initials by voice. */
  sign: {
    ask: 'Say your initials, letter by letter.',
    askAgain: 'Say your initials again, please. Alfa, Bravo, Charlie may help.',
    readBack: (initials: string) => `${[...initials].join(', ')}. Correct?`,
    stillListening: 'I am listening for your initials.',
    help: 'Say the letters, for example M K, or mike kilo. Say next to leave them open.',
    sayCorrect: 'Say correct, or say your initials.',
    parked: 'I leave the initials open. The reviewer asks for them.',
  },
  /** Between residents. */
  choose: {
    ask: 'Which bed, and what?',
    readBack: (bed: string, procedure: string) =>
      `${bed}, ${procedure.charAt(0).toLowerCase()}${procedure.slice(1)}. Say begin.`,
    help: 'Say the bed and the procedure, for example bed four, drainage bag.',
    sayBegin: 'Say begin, or say no.',
    askAgain: 'Say the bed and the procedure again.',
    noBed: 'That bed is not on the list. Say the bed and the procedure again.',
  },
  saving: 'Saving the entry.',
  saved: (mL: number) => `Entry saved: ${spelled(mL)} milliliters. It waits for review.`,
  savedOpen: 'Entry saved with the number still open. Tell the reviewer.',
  unsaved: 'The entry is not saved yet. I keep it and try again.',
  notKept: 'Careful: I can not keep the number on this device. Write it down as soon as you can.',
  keptAgain: 'The number is kept again.',
  nurse: (what: string) => `On hold. ${what}`,
  lookNoted: (what: string) => `Noted: ${what}.`,
  labels: {
    step: (index: number, count: number) => `Step ${index} of ${count}`,
    listening: 'Listening',
    speaking: 'Speaking',
    waiting: 'Waiting',
    onHold: 'On hold',
    notListening: 'Not listening',
    notForMe: 'Not for me',
    heard: 'Heard',
    amount: (mL: number) => amountText(mL),
  },
} as const;
