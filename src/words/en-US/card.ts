type CardState =
  | 'step'
  | 'reading'
  | 'readback'
  | 'held'
  | 'look'
  | 'weighing'
  | 'weighed'
  | 'tray'
  | 'trayReadback'
  | 'counting'
  | 'initials'
  | 'choosing'
  | 'chosen';

/** One line of the card: words that all mean the same, and what happens then. */
interface CardLine {
  readonly says: readonly [string, ...string[]];
  /** The command, the amount in mL, the code that is charted, or its parts. */
  readonly means: string;
  readonly does: string;
}

interface CardPart {
  /** All the places of the walk where it can be said. */
  readonly states: readonly CardState[];
  readonly title: string;
  readonly lines: readonly CardLine[];
}

/**
 * The card of what can be said, to print and hang up.
 *
 * A check reads each line to the interpreter, so that the card never promises what is not understood.
 */
export const card: {
  readonly title: string;
  readonly hint: string;
  readonly print: string;
  readonly or: string;
  readonly foot: string;
  readonly parts: readonly CardPart[];
} = {
  title: 'What you can say',
  hint: 'Print it and hang it where the containers are kept.',
  print: 'Print the card',
  or: 'or',
  foot: 'Anything else is taken for talk. The care plan, your facility’s policy and the nurse come first.',
  parts: [
    {
      states: ['choosing'],
      title: 'Between residents',
      lines: [
        {
          says: ['Bed four, drainage bag', 'Drainage bag for bed four'],
          means: 'bed:4,procedure:drainage-bag',
          does: 'Bed and procedure.',
        },
      ],
    },
    {
      states: ['chosen'],
      title: 'When it has bed and procedure',
      lines: [{ says: ['Begin', 'Correct'], means: 'confirm', does: 'The walk begins.' }],
    },
    {
      states: ['step', 'reading', 'look', 'weighing', 'tray', 'counting'],
      title: 'At any step',
      lines: [
        { says: ['Next', 'Step done'], means: 'next', does: 'Goes on to the next step.' },
        { says: ['Say again', 'Repeat that'], means: 'again', does: 'Says it once more.' },
        { says: ['Why', 'Tell me why'], means: 'why', does: 'Gives the reason.' },
        { says: ['Go back', 'Previous step'], means: 'back', does: 'One step back.' },
        { says: ['Hold on', 'Wait a moment'], means: 'hold', does: 'Stops and waits for you.' },
        { says: ['What was the number'], means: 'number', does: 'Says the kept number.' },
        { says: ['What can I say'], means: 'help', does: 'Lists what you can say.' },
      ],
    },
    {
      states: ['reading'],
      title: 'When you read the level',
      lines: [
        { says: ['Three hundred fifty', 'Three fifty mils'], means: '350', does: '350 mL' },
        { says: ['Seven five', 'Seventy five'], means: '75', does: '75 mL' },
        { says: ['Zero'], means: '0', does: '0 mL: a reading, too.' },
        { says: ['Another fill', 'One more fill'], means: 'addFill', does: 'Adds one more fill.' },
        { says: ['That is all', 'No more'], means: 'noMore', does: 'That was the last fill.' },
      ],
    },
    {
      states: ['readback'],
      title: 'When it reads the number back',
      lines: [
        { says: ['Correct', 'That is correct'], means: 'confirm', does: 'The number is kept.' },
        { says: ['No', 'Wrong number'], means: 'dispute', does: 'Asks for it again.' },
        { says: ['Four hundred'], means: '400', does: 'The right number, said at once.' },
      ],
    },
    {
      states: ['weighing'],
      title: 'When a wet pad lies on the scale',
      lines: [
        { says: ['Four hundred twelve grams'], means: 'grams:412', does: 'Less its dry weight.' },
        { says: ['It is soiled'], means: 'soiled', does: 'Counted instead, not measured.' },
      ],
    },
    {
      states: ['tray'],
      title: 'At a tray',
      lines: [
        {
          says: ['Juice, half', 'Half of the juice'],
          means: 'drunk:half,serving:juice',
          does: 'Half was drunk.',
        },
        {
          says: ['Coffee, forty left'],
          means: 'left:40,serving:coffee',
          does: '40 mL stand in it.',
        },
        { says: ['That is all', 'No more'], means: 'noMore', does: 'Reads back the sum.' },
      ],
    },
    {
      states: ['weighed', 'trayReadback', 'counting'],
      title: 'When it reads these back, or counts',
      lines: [
        { says: ['Correct', 'That is correct'], means: 'confirm', does: 'It is kept.' },
        { says: ['No'], means: 'dispute', does: 'Asks again.' },
      ],
    },
    {
      states: ['initials'],
      title: 'When it asks for initials',
      lines: [{ says: ['M K', 'Mike Kilo'], means: 'MK', does: 'Only those on the unit’s list.' }],
    },
    {
      states: ['held'],
      title: 'On hold',
      lines: [{ says: ['Carry on', 'Go on'], means: 'carryOn', does: 'Goes on where you were.' }],
    },
    {
      states: ['look'],
      title: 'When it asks what you see',
      lines: [
        { says: ['Clear and amber'], means: 'clear, amber', does: 'Color and clarity.' },
        { says: ['Cloudy', 'Milky'], means: 'cloudy', does: 'Kept, and the nurse is to be told.' },
        {
          says: ['Strong smell'],
          means: 'strongOdour',
          does: 'Kept, and the nurse is to be told.',
        },
        { says: ['No blood'], means: 'noBlood', does: 'Kept with the entry.' },
      ],
    },
    {
      states: ['step', 'held', 'reading', 'readback', 'look', 'weighing', 'tray', 'counting'],
      title: 'When something is wrong: at any moment',
      lines: [
        { says: ['Something is wrong'], means: 'wrong', does: 'Stops, and says what to do.' },
        { says: ['Report blood', 'There is blood in the bag'], means: 'blood', does: 'Blood' },
        { says: ['Report clots'], means: 'clots', does: 'Clots' },
        { says: ['It looks cloudy'], means: 'cloudy', does: 'Cloudy' },
        { says: ['It smells foul'], means: 'foul', does: 'Strong or foul smell' },
        { says: ['Nothing is draining'], means: 'nothingDraining', does: 'Nothing draining' },
        { says: ['The catheter came out'], means: 'catheterOut', does: 'Catheter out' },
        { says: ['The bag is leaking', 'Report a leak'], means: 'leak', does: 'Leak' },
        { says: ['The resident has pain', 'Report pain'], means: 'pain', does: 'Pain or burning' },
        { says: ['Report a sudden flood'], means: 'flood', does: 'Much more than before' },
        { says: ['Report a headache'], means: 'headache', does: 'Headache, sweating, flushed' },
        { says: ['The resident is confused'], means: 'newConfusion', does: 'New confusion' },
        { says: ['The resident fell'], means: 'fall', does: 'Fall' },
      ],
    },
  ],
};
