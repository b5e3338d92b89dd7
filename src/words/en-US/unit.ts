import { amountText } from './numbers.ts';
import { procedureFaults } from './procedureFaults.ts';

const some = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** The set-up of a unit: what its screen shows, and what is wrong with a file. */
export const unit = {
  title: 'Set up the unit',
  intro: 'Go from top to bottom. Each part starts with something that works.',

  sections: {
    name: 'Name and calling the nurse',
    beds: 'Beds',
    containers: 'Containers',
    bags: 'Bags',
    servings: 'Cups and servings',
    pads: 'Pads',
    plan: 'Shifts and the day',
    roster: 'Who works here',
    lock: 'Lock and safe keeping',
    findings: 'What to ask, tell and note',
    orders: 'Where the standards differ',
    ear: 'How it listens',
    review: 'Review and reminders',
    procedures: 'Our own procedures',
    card: 'Card: what you can say',
    file: 'Settings as a file',
  },

  glance: {
    beds: (count: number) => some(count, 'bed'),
    containers: (count: number) => some(count, 'container'),
    bags: (count: number) => some(count, 'bag'),
    servings: (count: number) => some(count, 'serving'),
    pads: (count: number) => (count === 0 ? 'none' : some(count, 'product')),
    plan: (edges: readonly string[], zone: string) => `${edges.join(' · ')}, ${zone}`,
    roster: (count: number, nurses: number) =>
      `${some(count, 'person', 'people')}, ${some(nurses, 'nurse')}`,
    findings: (changed: number) =>
      changed === 0 ? 'as delivered' : `${some(changed, 'setting')} of your own`,
    orders: (changed: number) =>
      changed === 0 ? 'as delivered' : `${some(changed, 'choice')} of your own`,
    review: (minutes: number) => `late after ${minutes} min`,
    procedures: (count: number) => (count === 0 ? 'none' : some(count, 'procedure')),
    faults: (count: number) => `${some(count, 'thing')} to mend`,
  },

  save: {
    changed: 'Changed, not saved yet.',
    save: 'Save the settings',
    back: 'Take back',
    saved: 'Saved. The next walk uses it.',
    notSaved: (why: string) => `Not saved. ${why}`,
    broken: (count: number) =>
      `Not saved: ${some(count, 'thing')} to mend. The settings from before are still in use.`,
  },

  add: 'Add',
  remove: (what: string) => `Remove ${what}`,
  none: 'None',

  name: {
    unit: 'Name of the unit',
    nurse: 'Whom to call (may be left empty)',
    nurseHint:
      'Said and shown after every “tell the nurse”, for example “Call the desk, extension one two.” Name a place or a number, not a person.',
    ounce: 'A fluid ounce counts as',
    ounces: {
      30: '30 mL (food labels: 21 CFR 101.9)',
      29.5735: '29.5735 mL (UCUM, US fluid ounce)',
    },
  },

  beds: {
    label: 'Bed',
    bag: 'Bag',
    container: 'Container',
    weight: 'Weight (kg)',
    risk: 'Dysreflexia risk',
    fresh: (number: number) => `Bed ${number}`,
    hint: 'Beds only, never names. A bed that gets a new label starts a new sheet; what is recorded stays under the old one. Leave the weight empty when none is on file. The risk is marked when the plan of care names it.',
  },

  containers: {
    label: 'What it is called',
    kind: 'Kind',
    top: 'What is the top mark? (mL)',
    step: 'A line every (mL)',
    error: 'Printed error (± %)',
    hint: 'Take each container in your hand and read its top mark. Nothing above it can be charted. Give the printed error only where the maker prints one.',
    fresh: 'New container',
    drawn: (top: number, step: number) =>
      `Container with a top mark of ${amountText(top)} and a line every ${amountText(step)}`,
    kinds: {
      graduate: 'Graduate',
      urinal: 'Urinal',
      hat: 'Commode hat',
      basin: 'Basin',
      emesisBag: 'Emesis bag',
      cup: 'Cup',
    },
  },

  bags: {
    label: 'What it is called',
    kind: 'Kind',
    capacity: 'Holds (mL)',
    fresh: 'New bag',
    kinds: { bedside: 'Bedside bag', leg: 'Leg bag', pouch: 'Drainable pouch' },
  },

  servings: {
    label: 'What is served',
    size: 'Holds (mL)',
    kind: 'Counts',
    kinds: { fluid: 'whole', ice: 'half (ice)' },
    fresh: 'New serving',
    hint: 'Measure the cups and bowls of your own kitchen: they differ from house to house.',
    said: 'Each can be said by its name as it stands before the comma, or with its vessel: “Iced tea, tall glass” is “iced tea” or “tall glass of iced tea”.',
    unsayable: (labels: string) =>
      `These can not be said: ${labels}. Write the name in letters only, and give each a name of its own.`,
    source: 'Sizes as delivered: hospital fact sheet on fluid intake; 21 CFR 101.9 for a cup.',
  },

  pads: {
    label: 'Product',
    dry: 'Dry weight (g)',
    fresh: 'New pad',
    hint: 'Weigh a dry pad of each product once. The weights delivered here are invented: replace them. Without a dry weight a wet pad can not be measured.',
  },

  plan: {
    presets: 'Start from',
    eight: '07–15–23',
    twelve: '07–19',
    shift: 'Shift',
    from: 'Begins at',
    dayFrom: 'The 24 hours close at',
    zone: 'Time zone of the unit',
    fresh: 'New shift',
  },

  roster: {
    initials: 'Initials',
    role: 'Role',
    roles: { aide: 'Aide', nurse: 'Nurse', setup: 'Sets up the unit' },
    hint: 'Two to four letters. Only a nurse confirms entries and takes what is told.',
    voice: 'At the end of a walk, ask for initials by voice',
    voiceHint: 'Otherwise whoever is signed in on the device stands under the entry.',
    noNurse: 'No nurse is on the list. Nobody could confirm an entry.',
  },

  findings: {
    hint: 'What the app does when a number shows something. It never says what it means.',
    severities: { ask: 'Ask again', tell: 'Say “tell the nurse”', note: 'Only note it' },
    fixed: 'Fixed. A unit can not turn this down.',
    source: (source: string) => `Source: ${source}`,
    titles: {
      aboveContainer: 'More than the top line',
      aboveFill: 'A fill over the top line',
      aboveBag: 'More than the bag holds',
      betweenLines: 'Between two lines',
      nothing: 'Nothing came',
      under30PerHour: 'Little for the hours',
      underHalfPerKg: 'Little for the weight on file',
      farAboveOwnRate: 'Far more than before',
      sameAgain: 'The same amount again',
      beforeLast: 'Read before the last entry',
      sinceLast: 'Hours since the last emptying',
      overFillMark: 'The bag was too full',
      vesselErrorWiderThanTolerance: 'The container is not exact there',
      soundAlike: 'A number that sounds like another',
      overOstomyDay: 'A pouch that makes much in a day',
    },
    limits: {
      perHourLimit: 'Under (mL/h)',
      rateHours: 'From so many hours on',
      perKgTenths: 'Under (mL/kg/h)',
      ownRateTimes: 'So many times the own rate',
      ownRateIntervals: 'After so many emptyings',
      sameAgainMinutes: 'Within (minutes)',
      tolerance: 'Wider than (mL either way)',
      ostomyDayLimit: 'From (mL in 24 h)',
      fillMark: 'Empty the bag at',
    },
    fillMarks: { half: 'half', twoThirds: 'two-thirds', threeQuarters: 'three-quarters' },
  },

  orders: {
    hint: 'Published teaching does not agree here. Choose what your facility teaches.',
    settings: {
      rinse: 'When a bedpan or basin is rinsed',
      record: 'When the entry is made',
      rounding: 'A level between two lines',
    },
    values: {
      afterReading: 'After the reading',
      beforeReading: 'Before the reading',
      afterHandsWashed: 'After hands are washed',
      beforeGlovesOff: 'Before the gloves come off',
      beforeHandsWashed: 'Gloves off, record, then wash hands',
      nearest: 'To the nearest line',
      up: 'Up to the next line',
    },
    usual: {
      rinse: 'NNAAP skills listing',
      record: 'NNAAP skills listing; state mock skills, bag skill',
      rounding: 'common practice, no source',
    },
    grade: { F: '', P: ' (quoted from memory)', W: ' (weak source)', M: ' (from memory)' },
  },

  ear: {
    hint: 'Sound is not kept by any ear. Only the remote ear lets it leave this device.',
    wishes: {
      auto: 'The best ear that keeps sound on this device',
      bundled: 'Only the ear inside this app',
      typed: 'No ear: words are typed',
      remote: 'The browser’s remote engine',
    },
    confirm: 'Our facility has agreed. Use the remote engine.',
    keep: 'Keep sound on this device',
    fileAsks: 'The file asks for the remote engine. It is off until you agree here.',
  },

  review: {
    self: 'Whoever drafted an entry may confirm it',
    selfHint: 'Common practice is a second person. Leave it off unless your policy says otherwise.',
    late: 'An entry is late after (minutes)',
    due: 'A bed is shown as due after (hours since the last entry)',
    dueKinds: 'Looked at for that',
    lateHint: 'Counted from the reading. Common practice, no source: 15 to 60.',
  },

  procedures: {
    hint: 'A procedure file of your own is checked line by line. A file with a fault is not used at all.',
    choose: 'Take in a procedure file (JSON)',
    added: (title: string) => `“${title}” is in the list. Save the settings to use it.`,
    refused: (name: string, count: number) =>
      `${name}: ${some(count, 'fault')}. Nothing of it is used.`,
    instead: 'stands in for ours',
    steps: (count: number) => some(count, 'step'),
  },

  file: {
    hint: 'One file holds all that is set here. Copy it to the other devices of the unit.',
    give: 'Get the settings as a file',
    take: 'Take in a settings file',
    taken: (name: string) => `${name} is read. Look it over, then save.`,
    refused: (name: string, count: number) =>
      `${name}: ${some(count, 'fault')}. Nothing of it is used.`,
    unread: 'This file can not be read.',
    name: (name: string) => `${name}-settings.json`,
    first: 'Save or take back your changes first: the file is made from what is saved.',
  },

  /** Why settings are refused; `about` is what is allowed, or the value in question. */
  faults: {
    not_json: () => 'This is not JSON from here on. Look for a missing comma, quote or bracket.',
    repeated_key: (about: string) => `“${about}” stands twice. Keep one of them.`,
    file_too_long: () => 'The file is longer than the settings of a unit can be.',
    newer: () => 'A newer version of this app made the file. Reload the page first.',
    missing: () => 'This is missing.',
    unknown_key: () => 'No setting has this name. Check the spelling, or take it out.',
    wrong_type: (about: string) => `This has to be ${about}.`,
    not_allowed: (about: string) => `This has to be one of: ${about}.`,
    empty: () => 'This is empty.',
    too_long: (about: string) => `This is too long. Use ${about} letters or fewer.`,
    too_small: (about: string) => `This is too small. The least is ${about}.`,
    too_large: (about: string) => `This is too large. The most is ${about}.`,
    not_whole: () => 'This has to be a whole number.',
    not_id: () => 'An id has letters, figures and hyphens only, 1 to 40 of them.',
    not_volume: () => 'This has to be whole mL, more than 0.',
    not_weight: () => 'This has to be whole grams, more than 0.',
    not_time: () => 'This has to be a time of day, for example 07:00.',
    not_initials: () => 'Initials are two to four capital letters.',
    not_procedure: () => 'This is not a procedure.',
    twice: (about: string) => `“${about}” stands twice. Each has to be different.`,
    unknown_container: (about: string) => `No container has the id “${about}”.`,
    unknown_bag: (about: string) => `No bag has the id “${about}”.`,
    line_above_top: () => 'The first line is above the top mark. Check both numbers.',
    unknown_zone: (about: string) => `No time zone is called “${about}”.`,
  },

  /** What a setting has to be, by the name that the checker has for it. */
  types: {
    string: 'text',
    number: 'a number',
    boolean: 'yes or no',
    Array: 'a list',
    Object: 'a group of settings',
    unknown: 'something else',
  },

  place: {
    atLine: (line: number) => `Line ${line}`,
    whole: 'The whole file',
    row: (number: number) => `Row ${number}: `,
  },

  files: {
    fhir: (what: string, mode: 'create' | 'update') =>
      `gloveside-${what}${mode === 'update' ? '-update' : ''}.fhir.json`,
    csv: (what: string) => `gloveside-${what}.csv`,
    backup: (when: string) => `gloveside-backup-${when}.jsonl`,
    wing: 'wing',
    storeTodo: 'Nothing was changed. Try again; if it stays so, reload the page.',
    unexpected: 'Reload the page and try again.',
    stoppedPartWay: (added: number) =>
      `It was stopped part way: ${some(added, 'event was', 'events were')} added, all of them whole. Bring the same file back to go on.`,
    failedPartWay: (added: number, why: string) =>
      `${some(added, 'event was', 'events were')} added, all of them whole. ${why}. Bring the same file back to go on.`,
  },
} as const;

/** What is said for a fault of the settings, or of a procedure among them. */
export function faultText(code: string, about: string): string {
  const texts: Readonly<Record<string, (about: string) => string>> = {
    ...procedureFaults,
    ...unit.faults,
  };
  return texts[code]?.(about) ?? code;
}
