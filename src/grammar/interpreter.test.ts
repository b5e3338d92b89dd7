import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { grammarFiles } from '../../tests/support/grammarFiles.ts';
import { spellNumber } from '../../tests/support/spellNumber.ts';
import type { Container } from '../measure/vessel.ts';
import { millilitres } from '../measure/volume.ts';
import type { Expectation } from './expectation.ts';
import { createInterpreter } from './interpreter.ts';
import { parseGrammar } from './jsgf/parseGrammar.ts';
import { Reader } from './Reader.ts';

const interpreter = createInterpreter(grammarFiles());
const vessel = (capacity: number, lineStep: number): Container => ({
  id: 'v',
  label: 'Graduate',
  kind: 'graduate',
  capacity: millilitres(capacity),
  lineStep: millilitres(lineStep),
});
const graduate = vessel(1000, 25);
const at = {
  step: { state: 'step' },
  held: { state: 'held' },
  reading: { state: 'reading', container: graduate, ounceIn: 30, fills: [] },
  readback: { state: 'readback', container: graduate, ounceIn: 30, proposed: millilitres(350) },
} satisfies Record<string, Expectation>;

describe('When a whole utterance is heard in a state', () => {
  it.each([
    ['next step', at.step, { kind: 'command', command: 'next' }],
    ['uh next step', at.step, { kind: 'command', command: 'next' }],
    ['Next step.', at.step, { kind: 'command', command: 'next' }],
    ['carry on', at.held, { kind: 'command', command: 'carryOn' }],
    ['next step', at.held, { kind: 'talk' }],
    ['correct', at.readback, { kind: 'command', command: 'confirm' }],
    ['correct', at.step, { kind: 'talk' }],
    ['yes', at.readback, { kind: 'talk', reason: 'no_number' }],
    ['no', at.readback, { kind: 'command', command: 'dispute' }],
    ['no, four hundred', at.readback, { kind: 'volume', reading: { mL: 400 } }],
    ['three fifty', at.reading, { kind: 'volume', reading: { mL: 350 } }],
    ['three fifty', at.step, { kind: 'talk' }],
    [
      'almost four hundred',
      at.reading,
      { kind: 'volume', reading: { mL: null, ambiguous: [400] } },
    ],
    ["that's all", at.reading, { kind: 'command', command: 'noMore' }],
    ['another fill', at.reading, { kind: 'command', command: 'addFill' }],
    ['room two twelve', at.reading, { kind: 'talk', reason: 'place' }],
    ['okay sweetie lift your leg', at.reading, { kind: 'talk', reason: 'no_number' }],
  ])('"%s" %j', (said, expectation, understood) => {
    expect(interpreter.understand(said, expectation)).toMatchObject(understood);
  });
});

describe('When the container decides', () => {
  it.each([
    ['for fifty', vessel(400, 25), 50],
    ['twenty twenty', vessel(2500, 20), null],
    ['twenty twenty', vessel(1000, 20), 20],
    ['one and a half', vessel(2000, 25), null],
    ['i have fifty', graduate, 50],
    ['it reads five', vessel(100, 5), 5],
    ['i got five', vessel(100, 5), 5],
    ['3:50', graduate, null],
    ['fifteen twenty', graduate, null],
    ['forty fifty', graduate, null],
    ['two or three hundred', vessel(250, 25), null],
  ])('%s', (said, container, mL) => {
    const reading = interpreter.volume(said, { container });
    expect(reading.mL).toBe(mL);
    if (mL === null) expect(reading.ambiguous.length).toBeGreaterThan(0);
  });

  it('says so', () => {
    const decided = interpreter.volume('for fifty', { container: vessel(400, 25) });
    const clear = interpreter.volume('three fifty', { container: graduate });
    expect([decided.decidedByContainer, clear.decidedByContainer]).toEqual([true, false]);
    expect(decided.confidence).toBeLessThan(clear.confidence);
  });

  it('leaves alone what it can not hold: that is for the weighing to say', () => {
    expect(interpreter.volume('twelve hundred', { container: graduate }).mL).toBe(1200);
    expect(interpreter.volume('three fifty two', { container: graduate }).mL).toBe(352);
  });
});

describe('When the input is no utterance', () => {
  it.each([
    ['', 'empty'],
    ['   ', 'empty'],
    ['...', 'empty'],
    ['three '.repeat(10_000), 'too_long'],
    ['one '.repeat(61), 'too_long'],
    ['триста', 'not_words'],
    ['三百', 'not_words'],
    ['350 👍', 'not_words'],
    ['three\u0000fifty', 'not_words'],
    ['100001', 'too_large'],
    ['999999999999999999999999', 'too_large'],
    ['two million', 'too_large'],
    ['-50', 'negative'],
    ['hello there', 'no_number'],
  ])('%j is refused', (said, refused) => {
    expect(interpreter.volume(said, {})).toMatchObject({ mL: null, ambiguous: [], refused });
  });

  it('never throws, whatever comes', () => {
    const words = fc.constantFrom(
      ...'three fifty hundred and no to for or point half a litre cup oz 350 3:50 1,2 $ . , - 12:75 1/2 not plus bed at about oh uh mls'.split(
        ' ',
      ),
    );
    const any = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 80 }),
      fc.array(words, { maxLength: 40 }).map((said) => said.join(' ')),
    );
    fc.assert(
      fc.property(any, (said) => {
        const { mL, ambiguous, doubt, refused } = interpreter.volume(said, {});
        const answers = [mL !== null, ambiguous.length > 0 || doubt !== null, refused !== null];
        expect(answers.filter(Boolean)).toHaveLength(1);
      }),
      { numRuns: 300 },
    );
  });
});

describe('When any number is said', () => {
  const numbers = fc.integer({ min: 13, max: 5000 });
  const spelt = numbers.map((number) => ({
    number,
    said: spellNumber(number, '%spellout-cardinal'),
  }));
  const written = numbers.map((number) => ({ number, said: String(number) }));
  const saying = fc.oneof(spelt, written);

  it('a lead-in or a unit never changes it', () => {
    const lead = fc.constantFrom(
      '',
      "it's ",
      'i got ',
      'looks like ',
      'uh ',
      'the reading is ',
      'okay ',
    );
    const unit = fc.constantFrom('', ' mls', ' mL', ' cc', ' milliliters', ' cubic centimeters');
    fc.assert(
      fc.property(saying, lead, unit, ({ number, said }, before, after) => {
        expect(interpreter.volume(before + said + after, {}).mL).toBe(number);
      }),
    );
  });

  it('"about" keeps it and says so', () => {
    fc.assert(
      fc.property(saying, ({ number, said }) => {
        expect(interpreter.volume(`about ${said}`, {})).toMatchObject({
          mL: number,
          approximate: true,
        });
      }),
    );
  });

  it('the last of two stands, and the first is kept', () => {
    fc.assert(
      fc.property(saying, saying, (first, last) => {
        const { mL, how } = interpreter.volume(`${first.said}, no, ${last.said}`, {});
        expect([mL, how?.corrected]).toEqual([last.number, [first.number]]);
      }),
    );
  });

  it('"almost", "at least", "over" never give a number', () => {
    const bound = fc.constantFrom('almost', 'at least', 'over', 'a little over', 'just under');
    fc.assert(
      fc.property(bound, saying, (word, { said }) => {
        expect(interpreter.volume(`${word} ${said}`, {}).mL).toBeNull();
      }),
    );
  });

  it('without a number word or a digit there is never a volume', () => {
    const reader = new Reader(grammarFiles());
    const isNumber = reader.wordsOf('numbers.numberWord');
    const isZero = new Set([
      'none',
      'nothing',
      'nil',
      'dry',
      'no',
      'quarter',
      'quarters',
      'a',
      'an',
    ]);
    const others = [...reader.compiled.words.keys()].filter(
      (word) => !isNumber.has(word) && !isZero.has(word),
    );
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...others), { maxLength: 6 }), (words) => {
        expect(interpreter.volume(words.join(' '), {}).mL).toBeNull();
      }),
      { numRuns: 1000 },
    );
  });
});

describe('When an ear is told what to listen for', () => {
  const ear = interpreter.earGrammar(at.reading);

  it('gets one file that reads as JSGF and needs no other', () => {
    const reader = new Reader({ 'ear.gram': ear.jsgf });
    expect(ear.jsgf).not.toMatch(/import|\{/);
    expect(parseGrammar('ear.gram', ear.jsgf).imports).toEqual([]);
    for (const said of ['three fifty', 'three hundred and fifty mils', 'next step', 'none'])
      expect(reader.read('ear.ear', reader.words(said) as never)).not.toEqual([]);
  });

  it('hears every line of the container, and no other number', () => {
    const reader = new Reader({ 'ear.gram': ear.jsgf });
    for (let number = 0; number <= 1200; number++) {
      const heard = reader.words(spellNumber(number, '%spellout-cardinal'));
      const isLine = number % 25 === 0 && number <= 1000;
      const isHeard = typeof heard !== 'string' && reader.read('ear.ear', heard).length > 0;
      expect({ number, isHeard }).toEqual({ number, isHeard: isLine });
    }
  });

  it('names its words, in small letters, sorted', () => {
    expect(ear.words).toEqual([...ear.words].sort());
    expect(ear.words.join(' ')).toMatch(/^[a-z' ]+$/);
    expect(ear.words).toContain('fifty');
    expect(ear.words).not.toContain('public');
  });

  it('takes only this state', () => {
    const { jsgf } = interpreter.earGrammar(at.held);
    expect(jsgf).toContain('carry on');
    expect(jsgf).not.toContain('fifty');
  });
});
