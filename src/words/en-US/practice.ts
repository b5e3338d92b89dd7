import { amountText, spelled } from './numbers.ts';

const steps = (count: number): string => (count === 1 ? 'One step' : `${count} steps`);

/** "One step comes before that, and it must not be missed." */
function passedOver(count: number, critical: number): string {
  const before = `${steps(count)} ${count === 1 ? 'comes' : 'come'} before that`;
  if (critical === 0) return `${before}.`;
  if (count === 1) return `${before}, and it must not be missed.`;
  return `${before}. ${critical} of them must not be missed.`;
}

const offText = (off: number): string =>
  off > 0 ? `${spelled(off)} too much` : `${spelled(-off)} too little`;

/** What the assistant says in practice, and what the practice screens show. */
export const practice = {
  said: {
    guided: (title: string) => `Practice. ${title}. Say next after each step, or ask why.`,
    recall: (title: string) =>
      `Practice. ${title}. Say the first step in your own words. Say tell me, if you do not know.`,
    drill: (count: number) =>
      `Reading practice, ${spelled(count)} levels. Look at the picture and say the line.`,
    why: (reason: string, source: string | undefined) =>
      source === undefined ? reason : `${reason} Source: ${source}.`,
    hold: 'Take your time. Practice waits for you.',
    onlyPractice:
      'This is practice. I told nobody. If something is really wrong, get the nurse now.',
    firstStep: 'This is the first step.',
    noNumber: 'Guided practice keeps no number.',
    guidedDone: 'That was the last step.',
    guidedHelp: 'You can say: next, why, say again, go back, or stop practice.',
    right: (call: string, more: boolean) =>
      more ? `Right. ${call} What comes next?` : `Right. ${call}`,
    told: (call: string, critical: boolean, more: boolean) =>
      [
        `The step is: ${call}`,
        ...(critical ? ['It must not be missed.'] : []),
        ...(more ? ['What comes next?'] : []),
      ].join(' '),
    tooEarly: (count: number, critical: number) =>
      `That comes later. ${passedOver(count, critical)} What comes next?`,
    namedBefore: 'You have that step already. What comes next?',
    unclear: 'I find no step in those words. Try other words, or say tell me.',
    noWayBack: 'There is no way back here. What comes next?',
    noStepYet: 'Say the first step in your own words.',
    thinking: 'Take your time. Say tell me to hear the step.',
    recallHelp:
      'Say the next step in your own words, or say: tell me, why, say again, stop practice.',
    recallDone: 'That was the last step.',
    ask: (index: number, count: number) =>
      `Level ${spelled(index)} of ${spelled(count)}. How many milliliters?`,
    askAgain: 'Look again, and say the line.',
    unclearVolume: 'I am not sure of the number. Say it again.',
    notAbout: 'Not about: say the line that you read.',
    readingWhy: 'Read from above or below, the level looks lower or higher than it is.',
    readingHelp: 'Say the line, for example three hundred fifty. Then say correct.',
    sayVolumeFirst: 'Say the line that you read first.',
    sayCorrect: 'Say correct, or say the right number.',
    exact: (line: number) => `Right: ${spelled(line)} milliliters.`,
    within: (off: number, line: number, tolerance: number) =>
      `Within ${spelled(tolerance)}: ${offText(off)}. The line is ${spelled(line)}.`,
    outside: (off: number, line: number) =>
      `Not yet: ${offText(off)}. The line is ${spelled(line)}.`,
    onWithin: (line: number, tolerance: number) =>
      `The level is right, within ${spelled(tolerance)}. The line to say is ${spelled(line)}.`,
    between: (below: number, above: number) =>
      `The level is between ${spelled(below)} and ${spelled(above)}.`,
    noLine: (said: number) => `${spelled(said)} is no line of this container.`,
    sayNext: 'Say next.',
    drillDone: 'That was the last level.',
  },
  choose: {
    heading: 'Practice',
    lead: 'No resident, no record. What you do here stays out of the unit’s charting.',
    noCertificate:
      'Practice is for learning. It certifies nothing: your instructor, your state’s test and your facility decide what you may do.',
    mode: 'What do you want to do?',
    modes: {
      guided: {
        title: 'Guided',
        what: 'Hear each step. Ask why, and hear the reason and its source.',
      },
      recall: { title: 'Recall', what: 'Say each step from memory, before you hear it.' },
      drill: { title: 'Reading drill', what: 'Read a drawn container aloud.' },
    },
    procedure: 'Procedure',
    container: 'Container',
    tolerance: 'How close is right?',
    tolerances: {
      25: '25 mL (NNAAP listing)',
      50: '50 mL (older checklist)',
    },
    seed: 'Seed, to see earlier levels again',
    seedHint: 'Leave it empty for new levels.',
    begin: 'Open the ear and begin',
    attempts: 'Attempts so far',
    walkFirst: 'A walk with a resident is on its way. Finish it first; then come back to practice.',
    toWalk: 'Back to the walk',
    opening: 'Getting the ear and the voice ready …',
  },
  round: {
    mark: 'Practice',
    unit: 'no resident, no record',
    listening: 'Listening',
    speaking: 'Speaking',
    waiting: 'One moment',
    deaf: 'Not listening',
    notForMe: (words: string) => `Not for me: “${words}”`,
    noWords: 'I heard something, but no word of a step.',
    loud: 'It is too loud here. Come closer.',
    faint: 'I hear you only faintly. Come closer.',
    retryEar: 'Try the microphone again',
    say: 'You can say',
    typed: 'Type what you would say',
    typedSend: 'Say it',
    buttons: {
      next: 'Next',
      again: 'Say again',
      why: 'Why',
      back: 'Go back',
      tell: 'Tell me',
      confirm: 'Correct',
      dispute: 'No',
      stop: 'Stop practice',
    },
    because: 'Why',
    sources: 'Source',
    grades: {
      F: 'text read',
      P: 'page found, the detail from memory',
      W: 'a weak source',
      M: 'from memory',
    },
    askWhy: 'Ask why to see the reason and its source.',
    due: (index: number, count: number) => `Step ${index} of ${count}: what comes next?`,
    yourWords: (words: string) => `You said: “${words}”`,
    verdicts: {
      right: 'Right',
      tooEarly: 'Comes later',
      again: 'Said already',
      unclear: 'No step found',
    },
    soFar: (count: number) => (count === 1 ? 'The step so far' : `All ${count} steps so far`),
    latest: 'Latest steps',
    marks: { right: 'right', missed: 'told', critical: 'must not be missed' },
    pick: 'I can not say it: choose from all steps',
    pickHint: 'To choose is easier than to say it. The result says how many you chose.',
    level: (index: number, count: number) => `Level ${index} of ${count}`,
    seed: (seed: number) => `Seed ${seed}`,
    drawn: (container: string) => `${container}, drawn with a level for you to read`,
    drawnAt: (container: string, mL: number) => `${container}, level at ${amountText(mL)}`,
    youSaid: 'You said',
    theLine: 'The line',
    theLevel: 'The level',
    exact: 'Right',
    within: (tolerance: number) => `Within ${tolerance} mL`,
    outside: (tolerance: number) => `More than ${tolerance} mL off`,
    toAgree: 'To be agreed to',
  },
  result: {
    heading: 'This round',
    kept: 'Kept on this device, for practice only.',
    keeping: 'Keeping the result …',
    notKept: 'This device can not keep the result. I try again.',
    leaveIt: 'Go on without keeping it',
    nothing: 'Nothing was done in this round, so nothing is kept.',
    guided: (count: number, all: number) =>
      count >= all ? `All ${all} steps heard.` : `${count} of ${all} steps heard.`,
    score: (right: number, of: number) => `${right} of ${of}`,
    rightSteps: 'Said in their turn',
    missed: 'Had to be told',
    outOfOrder: 'Out of order',
    critical: 'Must not be missed',
    criticalMissed: (count: number) =>
      count === 1
        ? 'One step that must not be missed was missed or passed over:'
        : `${count} steps that must not be missed were missed or passed over:`,
    early: (named: string, due: string) => `“${named}” was said when this was due: “${due}”`,
    open: (count: number) => `${steps(count)} ${count === 1 ? 'was' : 'were'} not reached.`,
    picked: (count: number) =>
      `${steps(count)} ${count === 1 ? 'was' : 'were'} chosen from the list, not said from memory.`,
    clean: 'Every step in its turn, none missed.',
    levels: 'Readings',
    columns: {
      level: 'Level, mL',
      said: 'You said, mL',
      line: 'Line, mL',
      off: 'Off, mL',
      is: 'Judged',
    },
    judged: { exact: 'Right', within: 'Within', outside: 'Too far off' },
    anotherRound: 'Another round',
    sameAgain: 'The same again',
    attempts: 'Attempts so far',
  },
  attempts: {
    heading: 'Practice attempts',
    of: (initials: string) => `Initials ${initials}`,
    empty: 'No attempt yet. The first finished round shows up here.',
    loading: 'Reading the attempts …',
    failed: 'The attempts can not be read on this device.',
    noCertificate:
      'This page shows practice on this device. It is no certificate and no proof of skill.',
    columns: {
      when: 'When',
      what: 'Practiced',
      right: 'Right',
      of: 'Of',
      critical: 'Critical missed',
      note: 'Note',
    },
    kinds: { guided: 'Guided', recall: 'Recall', drill: 'Reading drill' },
    heard: (count: number) => `${count === 1 ? '1 step' : `${count} steps`} heard, nothing judged`,
    picked: (count: number) => `${count} chosen from the list`,
    unfinished: 'stopped before the end',
    drillNote: (tolerance: number, seed: number) => `±${tolerance} mL, seed ${seed}`,
    overTime: (what: string) => `${what}: right part of each attempt, oldest first`,
    point: (when: string, right: number, of: number) => `${when}: ${right} of ${of}`,
    print: 'Print this page',
    back: 'Back to practice',
  },
} as const;
