import type { DemoDecision, DemoEntry, DemoWhen, WingDays } from '../src/app/demo/wingDays.ts';

const graduate = 'Clear graduate 1000 mL, lines of 25 mL';
const bag = 'Bedside bag, 2000 mL';
const on = (days: number, at: string): DemoWhen => ({ days, at });

/** A drainage bag as it goes on most days: read, read back, agreed to. */
function emptied(
  key: string,
  when: DemoWhen,
  bed: string,
  by: string,
  mL: number,
  words: string,
): DemoEntry {
  return {
    key,
    when,
    bed,
    by,
    fluid: 'urineCatheter',
    procedure: 'drainage-bag',
    amount: { mL },
    container: graduate,
    bag,
    said: [[words, mL]],
    readBack: `${words} milliliters. Correct?`,
    answer: 'correct',
  };
}

const drunk = (key: string, when: DemoWhen, bed: string, by: string, mL: number): DemoEntry => ({
  key,
  when,
  bed,
  by,
  fluid: 'oralFluid',
  procedure: 'oral-intake',
  amount: { mL },
  said: [
    ['water all of it', 200],
    ['juice all of it', 120],
  ],
  readBack: `All together: ${mL} milliliters measured. Correct?`,
  answer: 'correct',
  working: {
    code: 'tray',
    numbers: {
      '1 water served mL': 200,
      '1 water measured mL': 200,
      '2 juice served mL': 120,
      '2 juice measured mL': 120,
    },
  },
});

const confirmed = (key: string, when: DemoWhen, by = 'YK'): DemoDecision => ({
  on: key,
  when,
  by,
  act: { confirm: true },
});

/** Two days ago: all of it was reviewed, with one amendment and one entry struck out. */
const first: WingDays = {
  entries: [
    emptied('a1', on(2, '07:40'), 'Bed 11', 'QX', 425, 'four hundred twenty five'),
    emptied('a2', on(2, '14:20'), 'Bed 11', 'QX', 550, 'five hundred fifty'),
    emptied('a3', on(2, '14:35'), 'Bed 15', 'QX', 375, 'three hundred seventy five'),
    drunk('a4', on(2, '12:30'), 'Bed 11', 'QX', 320),
    {
      key: 'a5',
      when: on(2, '16:10'),
      bed: 'Bed 17',
      by: 'ZV',
      fluid: 'urineVoided',
      procedure: 'urinal',
      amount: { mL: 300 },
      container: 'Demo urinal 1000 mL, lines of 50 mL',
      said: [['three hundred', 300]],
      readBack: 'three hundred milliliters. Correct?',
      answer: 'correct',
    },
    // Struck: it was another bed's bag.
    emptied('a6', on(2, '21:50'), 'Bed 12', 'ZV', 475, 'four hundred seventy five'),
    emptied('a7', on(2, '22:05'), 'Bed 11', 'ZV', 475, 'four hundred seventy five'),
  ],
  decisions: [
    confirmed('a1', on(2, '15:10')),
    confirmed('a2', on(2, '15:11')),
    { on: 'a3', when: on(2, '15:12'), by: 'YK', act: { confirm: true } },
    {
      on: 'a3',
      when: on(2, '15:40'),
      by: 'YK',
      act: { amendTo: 350, reason: 'read again at eye level, with the aide' },
    },
    confirmed('a4', on(2, '15:13')),
    confirmed('a5', on(2, '18:00'), 'XJ'),
    {
      on: 'a6',
      when: on(2, '22:30'),
      by: 'XJ',
      act: { strike: 'wrong bed: it was the bag of Bed 11' },
    },
    // Confirmed by mistake, taken back, looked at and confirmed.
    confirmed('a7', on(2, '22:31'), 'XJ'),
    { on: 'a7', when: on(2, '22:32'), by: 'XJ', act: { undo: true } },
    confirmed('a7', on(2, '22:40'), 'XJ'),
  ],
  alerts: [],
};

/** Yesterday: two fills, a weighed pad, an episode that could not be measured, blood that was told. */
const second: WingDays = {
  entries: [
    {
      ...emptied('b1', on(1, '06:45'), 'Bed 11', 'ZV', 1375, ''),
      amount: { mL: 1375, fills: [950, 425] },
      said: [
        ['nine hundred fifty', 950],
        ['add four hundred twenty five', 425],
      ],
      readBack:
        'nine hundred fifty, and four hundred twenty five, together one thousand three hundred seventy five milliliters. Correct?',
      findings: [
        {
          code: 'overFillMark',
          numbers: { mL: 1375, capacity: 2000, mark: 1333 },
        },
      ],
    },
    {
      ...emptied('b2', on(1, '09:15'), 'Bed 12', 'QX', 250, 'two hundred fifty'),
      looks: [{ code: 'pink', words: 'it is pink' }],
    },
    {
      key: 'b3',
      when: on(1, '10:20'),
      bed: 'Bed 16',
      by: 'QX',
      fluid: 'urinePad',
      procedure: 'weighed-pad',
      amount: { mL: 322 },
      container: 'Demo brief',
      said: [['four hundred twelve grams', 322]],
      readBack: 'four hundred twelve grams: four, one, two. Correct?',
      answer: 'correct',
      working: { code: 'weighedPad', numbers: { wetGrams: 412, dryGrams: 90 } },
    },
    {
      key: 'b4',
      when: on(1, '17:35'),
      bed: 'Bed 16',
      by: 'ZV',
      fluid: 'urinePad',
      procedure: 'unmeasured-episode',
      amount: { episodes: 1 },
      said: [],
      readBack: 'One episode, not measured. Correct?',
      answer: 'correct',
    },
    drunk('b5', on(1, '12:40'), 'Bed 12', 'QX', 320),
    {
      key: 'b6',
      when: on(1, '19:05'),
      bed: 'Bed 15',
      by: 'ZV',
      fluid: 'emesis',
      procedure: 'emesis',
      amount: { mL: 150 },
      container: 'Demo basin 500 mL, lines of 50 mL',
      said: [['one hundred fifty', 150]],
      readBack: 'one hundred fifty: one, five, zero. Correct?',
      answer: 'correct',
      findings: [{ code: 'soundAlike', numbers: { mL: 150, partner1: 115 } }],
    },
  ],
  decisions: [
    confirmed('b1', on(1, '07:20'), 'XJ'),
    confirmed('b2', on(1, '09:50')),
    confirmed('b3', on(1, '15:05')),
    confirmed('b5', on(1, '15:06')),
    confirmed('b6', on(1, '22:10'), 'XJ'),
  ],
  alerts: [
    {
      when: on(1, '09:17'),
      by: 'QX',
      bed: 'Bed 12',
      code: 'blood',
      words: 'it is pink',
      on: 'b2',
      taken: { when: on(1, '09:24'), by: 'YK', note: 'seen at the bed' },
    },
  ],
};

/** The last hours: what waits for the reviewer now. */
const third: WingDays = {
  entries: [
    // Late: the tablet was not at hand, and it was typed two hours afterwards.
    {
      ...emptied('c1', { ago: 400 }, 'Bed 12', 'ZV', 525, 'five hundred twenty five'),
      recordedAfter: 125,
      ear: 'typed',
    },
    // Disputed: heard as another line, and put right by the aide.
    {
      ...emptied('c2', { ago: 190 }, 'Bed 11', 'QX', 350, ''),
      said: [
        ['three hundred', 300],
        ['three hundred fifty', 350],
      ],
      readBack: 'three hundred fifty: three, five, zero. Correct?',
      findings: [{ code: 'soundAlike', numbers: { mL: 350, partner1: 315 } }],
    },
    // Parked: a trolley went by three times.
    {
      ...emptied('c3', { ago: 150 }, 'Bed 16', 'QX', 0, ''),
      amount: { parked: [200, 250] },
      said: [
        ['two hundred', 200],
        ['two hundred fifty', 250],
        ['two hundred', 200],
      ],
      readBack: null,
      answer: null,
    },
    // Little came: told, and nobody took it yet.
    {
      ...emptied('c4', { ago: 95 }, 'Bed 15', 'QX', 75, 'seventy five'),
      findings: [
        {
          code: 'under30PerHour',
          numbers: { mL: 75, hours: 5.2, rate: 14.4, limit: 30 },
        },
      ],
    },
    {
      key: 'c5',
      when: { ago: 70 },
      bed: 'Bed 16',
      by: 'QX',
      fluid: 'urinePad',
      procedure: 'unmeasured-episode',
      amount: { episodes: 1 },
      said: [],
      readBack: 'One episode, not measured. Correct?',
      answer: 'correct',
    },
    {
      key: 'c6',
      when: { ago: 45 },
      bed: 'Bed 15',
      by: 'QX',
      fluid: 'oralFluid',
      procedure: 'oral-intake',
      amount: { mL: 100, method: 'estimated' },
      said: [['coffee half', 100]],
      readBack: 'coffee or tea, cup, half: one hundred milliliters. Correct?',
      answer: 'correct',
      working: {
        code: 'tray',
        numbers: { '1 coffee served mL': 200, '1 coffee estimated mL': 100 },
      },
    },
    {
      ...emptied('c7', { ago: 25 }, 'Bed 14', 'QX', 275, 'two hundred seventy five'),
      bag: 'Leg bag, 500 mL',
      procedure: 'leg-bag',
    },
  ],
  decisions: [],
  alerts: [
    {
      when: { ago: 94 },
      by: 'QX',
      bed: 'Bed 15',
      code: 'somethingWrong',
      words: 'it is hardly draining',
      on: 'c4',
    },
  ],
};

/** The night in which the clocks were last changed: one reading on each side of it. */
const change: WingDays = {
  entries: [
    emptied('t1', { afterChange: -40 }, 'Bed 11', 'ZV', 400, 'four hundred'),
    emptied('t2', { afterChange: 20 }, 'Bed 12', 'ZV', 300, 'three hundred'),
    emptied('t3', { afterChange: 200 }, 'Bed 11', 'ZV', 450, 'four hundred fifty'),
  ],
  decisions: [
    confirmed('t1', { afterChange: 260 }, 'XJ'),
    confirmed('t2', { afterChange: 261 }, 'XJ'),
    confirmed('t3', { afterChange: 262 }, 'XJ'),
  ],
  alerts: [],
};

const parts = [first, second, third, change];

/** Three days of the demo wing, and the night of its last clock change. */
export const days: WingDays = {
  entries: parts.flatMap(({ entries }) => entries),
  decisions: parts.flatMap(({ decisions }) => decisions),
  alerts: parts.flatMap(({ alerts }) => alerts),
};
