/** Whom to tell, and how soon, by urgency. */
export const alertHow = {
  call: 'Call the nurse now, and stay with the resident.',
  now: 'Tell the nurse now.',
  soon: 'Tell the nurse before you go on to the next resident.',
} as const;

interface AlertWords {
  /** A few words, for lists. */
  readonly title: string;
  /** What the voice says to the aide. */
  readonly said: string;
  /** What the aide may say to the nurse; beds, not names. */
  readonly tell: (bed: string) => string;
  readonly source: string;
}

const list = 'home-care teaching sheet, call list for a person with a catheter';
const delegated = 'state university nursing-skills page, delegation part';
const practice = 'common nursing practice, no published source';
const spinal = 'Consortium for Spinal Cord Medicine, autonomic dysreflexia, 2020; consumer guide';

/** What to say, and to whom, for each thing that may be wrong. The tool concludes nothing. */
export const alerts = {
  dysreflexia: {
    title: 'Dysreflexia warning',
    said: 'Sit the resident up. Call the nurse now.',
    tell: (bed) =>
      `${bed} is marked at risk of dysreflexia and has a warning sign. Please come now.`,
    source: spinal,
  },
  fall: {
    title: 'Fall',
    said: 'Call the nurse now. Stay with the resident, and do not lift them.',
    tell: (bed) => `${bed} had a fall. Please come now.`,
    source: practice,
  },
  choking: {
    title: 'Choking or hard to wake',
    said: 'Call the nurse now. Stay with the resident.',
    tell: (bed) => `${bed} is choking or hard to wake. Please come now.`,
    source: practice,
  },
  blood: {
    title: 'Blood',
    said: 'Blood. Tell the nurse now, and keep it for the nurse to see.',
    tell: (bed) => `I see blood, or a pink or red color, from ${bed}.`,
    source: `${delegated}; ${list}`,
  },
  clots: {
    title: 'Clots',
    said: 'Clots. Tell the nurse now, and keep it for the nurse to see.',
    tell: (bed) => `I see clots from ${bed}.`,
    source: `${list}; report of a US federal survey, 2025`,
  },
  nothingDraining: {
    title: 'Nothing draining',
    said: 'Nothing drains. Look for a bent tube only, then tell the nurse now.',
    tell: (bed) => `Nothing is draining from ${bed}. The tube is not bent that I can see.`,
    source: `${list}: cannot drain, or nothing in 6 to 8 hours`,
  },
  catheterOut: {
    title: 'Catheter out',
    said: 'Do not put anything back. Tell the nurse now.',
    tell: (bed) => `The catheter of ${bed} has come out. I have not touched it.`,
    source: list,
  },
  flood: {
    title: 'Sudden flood',
    said: 'Much more than before. Tell the nurse now.',
    tell: (bed) => `${bed} suddenly has much more output than before.`,
    source: practice,
  },
  pain: {
    title: 'Pain',
    said: 'Pain. Stop, and tell the nurse now.',
    tell: (bed) => `${bed} has pain or burning. These are their words.`,
    source: `${delegated}; ${list}`,
  },
  fever: {
    title: 'Fever or chills',
    said: 'Fever or chills. Tell the nurse now.',
    tell: (bed) => `${bed} has chills or feels hot.`,
    source: `${delegated}; ${list}: shaking chills, or over 101 °F (38.3 °C)`,
  },
  headache: {
    title: 'Headache',
    said: 'Headache. Tell the nurse now.',
    tell: (bed) => `${bed} has a headache, a red face, or sweats.`,
    source: spinal,
  },
  newConfusion: {
    title: 'New confusion',
    said: 'New confusion. Tell the nurse now.',
    tell: (bed) => `${bed} is more confused than before.`,
    source: `${delegated}: older adults may show only confusion`,
  },
  vomitBlood: {
    title: 'Blood or coffee grounds in vomit',
    said: 'Tell the nurse now, and keep it for the nurse to see.',
    tell: (bed) => `I see blood, or a look like coffee grounds, in the vomit of ${bed}.`,
    source: practice,
  },
  stomaChange: {
    title: 'Stoma changed',
    said: 'The stoma looks different. Tell the nurse now.',
    tell: (bed) => `The stoma of ${bed} looks dark or different.`,
    source: practice,
  },
  leak: {
    title: 'Leak',
    said: 'A leak. Take nothing apart, and tell the nurse now.',
    tell: (bed) => `The catheter, tube or bag of ${bed} leaks.`,
    source: list,
  },
  cloudy: {
    title: 'Cloudy or thick',
    said: 'Cloudy or thick. Tell the nurse before the next resident.',
    tell: (bed) => `The output of ${bed} is cloudy, thick or has specks.`,
    source: `${list}; ${delegated}`,
  },
  foul: {
    title: 'Strong smell',
    said: 'A strong smell. Tell the nurse before the next resident.',
    tell: (bed) => `The output of ${bed} has a strong smell.`,
    source: `${list} (one teaching quiz: the smell alone is weak evidence)`,
  },
  soreSkin: {
    title: 'Sore skin',
    said: 'Sore skin. Tell the nurse before the next resident.',
    tell: (bed) => `${bed} has sore or red skin. I can show you where.`,
    source: delegated,
  },
  spill: {
    title: 'Spill',
    said: 'A spill. Clean it up, then wash with soap and water. Tell the nurse.',
    tell: (bed) => `Some was spilled at ${bed}, so the amount is not whole.`,
    source: 'WHO hand hygiene 2009: soap and water when soiled; the rest is common practice',
  },
  somethingWrong: {
    title: 'Something is wrong',
    said: 'Stop here. Tell the nurse now what you see.',
    tell: (bed) => `Something is not right with ${bed}. Please come and look.`,
    source: '42 CFR 483.152(b): see abnormal change and tell a supervisor',
  },
} as const satisfies Record<string, AlertWords>;

/** What each look is called on the screen and in the record. */
export const lookNames = {
  colourless: 'colorless',
  pale: 'pale',
  yellow: 'yellow',
  amber: 'amber',
  dark: 'dark',
  orange: 'orange',
  brown: 'brown',
  green: 'green',
  black: 'black',
  pink: 'pink',
  red: 'red',
  clear: 'clear',
  cloudy: 'cloudy',
  thick: 'thick',
  watery: 'watery',
  noOdour: 'no smell',
  strongOdour: 'strong smell',
  foulOdour: 'foul smell',
  sweetOdour: 'sweet smell',
  noSediment: 'no specks',
  specks: 'specks',
  mucus: 'mucus',
  noBlood: 'no blood',
  someBlood: 'blood',
  clots: 'clots',
  coffeeGrounds: 'like coffee grounds',
} as const;
