import { amountText, digitByDigit, spelled } from './numbers.ts';

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
  },
  noNumberYet: 'There is no number yet.',
  number: (mL: number) => `You read ${spelled(mL)} millilitres.`,
  parkedNumber: (candidates: readonly number[]) =>
    candidates.length === 0
      ? 'The number is still open.'
      : `The number is still open: ${listed(candidates.map(spelled))}.`,
  ask: 'Read the level now. How many millilitres?',
  askFill: (fill: number) => `Fill ${fill}. How many millilitres?`,
  askAgain: 'Say the volume again, please.',
  askDigits: 'Say it digit by digit, please.',
  stillListening: 'I am listening for the volume.',
  noNumberNext: 'I have no number yet. Say the volume, or say next again to leave it open.',
  readBack: (mL: number, digits: boolean) =>
    digits
      ? `${spelled(mL)}: ${digitByDigit(mL)}. Correct?`
      : `${spelled(mL)} millilitres. Correct?`,
  readBackFills: (fills: readonly number[], sum: number) =>
    `${fills.map(spelled).join(', and ')}, together ${spelled(sum)} millilitres. Correct?`,
  sayCorrect: 'Say correct, or say the right number.',
  settled: (mL: number) => `${spelled(mL)} millilitres, kept.`,
  fillKept: (mL: number) => `${spelled(mL)}, kept. Next fill.`,
  whichOf: (candidates: readonly number[]) =>
    `Did you mean ${listed(candidates.map(spelled))}? Say the number.`,
  approximate: (mL: number) => `About ${spelled(mL)}? Look at the line, and say the number on it.`,
  notVolume: 'That was not a volume I can use. Which line is it at?',
  parked: 'I leave the number open. We go on, and settle it when your hands are clean.',
  openAtEnd: 'Your hands are clean. Now settle the number on the screen, or say it.',
  saving: 'Saving the entry.',
  saved: (mL: number) => `Entry saved: ${spelled(mL)} millilitres. It waits for review.`,
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
