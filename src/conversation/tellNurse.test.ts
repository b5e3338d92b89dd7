import { describe, expect, test } from 'vitest';
import { typedWalk } from '../../tests/support/typedWalk.ts';
import type { WalkInput } from './walkContext.ts';
import { nurseText } from './walkWords.ts';

const nurse = 'Call the desk, extension one two.';

type Walk = ReturnType<typeof typedWalk>;
type Place = readonly [
  name: string,
  /** What the ear expects there. */
  expected: string,
  procedure: string,
  go: (walk: Walk) => Promise<void>,
  more?: Partial<WalkInput>,
];

const saying =
  (step: string, ...words: string[]) =>
  async (walk: Walk) => {
    await walk.until(step);
    await walk.say(...words);
  };

/** The level was not read, and the hands are clean again. */
async function leftOpen(walk: Walk) {
  await saying('read', 'next step', 'next step')(walk);
  await walk.until('document');
}

/** Where a hold leads on instead: initials that were not agreed to are asked for anew. */
const after: Readonly<Record<string, string>> = { held: 'step', initialsReadback: 'initials' };

/** Every place of a walk where the assistant listens. */
const places: readonly Place[] = [
  ['at a step', 'step', 'drainage-bag', saying('explain')],
  ['on hold', 'held', 'drainage-bag', saying('explain', 'hold on')],
  ['while the level is read', 'reading', 'drainage-bag', saying('read')],
  ['while the number is read back', 'readback', 'drainage-bag', saying('read', 'four hundred')],
  ['at the look', 'look', 'drainage-bag', saying('look', 'clear and amber')],
  ['while an open number is settled', 'reading', 'drainage-bag', leftOpen],
  ['at a check', 'check', 'weighed-pad', saying('soil-check')],
  ['while a pad is weighed', 'weighing', 'weighed-pad', saying('weigh')],
  ['while grams are read back', 'weighed', 'weighed-pad', saying('weigh', 'four hundred grams')],
  ['at a tray', 'tray', 'oral-intake', saying('intake')],
  ['while a serving is read back', 'trayReadback', 'oral-intake', saying('intake', 'juice, half')],
  ['while an episode is counted', 'counting', 'unmeasured-episode', saying('count')],
  ['while initials are asked for', 'initials', 'unmeasured-episode', saying('count', 'correct'), { roster: ['MK'] }],
  ['while initials are read back', 'initialsReadback', 'unmeasured-episode', saying('count', 'correct'), { roster: ['MK'] }],
]; // prettier-ignore

const named = places.map((place) => ({ name: place[0], place }));

/** The plain words for each, as the round asks for them. */
const phrases: readonly (readonly [said: string, code: string])[] = [
  ['there is blood in the bag', 'blood'],
  ['report clots', 'clots'],
  ['nothing is draining', 'nothingDraining'],
  ['it looks cloudy', 'cloudy'],
  ['it smells foul', 'foul'],
  ['the resident has pain', 'pain'],
  ['the bag is leaking', 'leak'],
  ['the catheter came out', 'catheterOut'],
  ['report a sudden flood', 'flood'],
  ['the resident is suddenly confused', 'newConfusion'],
  ['something is wrong', 'somethingWrong'],
];

async function walkTo([, expected, procedure, go, more]: Place, others: Partial<WalkInput> = {}) {
  const walk = typedWalk(procedure, { nurse, ...more, ...others });
  await go(walk);
  if (more?.roster) {
    for (let turn = 0; turn < 20 && walk.open() !== 'initials'; turn++) await walk.say('next step');
    if (expected === 'initialsReadback') await walk.say('m k');
  }
  expect(walk.open()).toBe(expected);
  return walk;
}

describe.each(named)('When something is wrong $name', ({ place }) => {
  test.each(phrases)('“%s” is told, kept and spoken, and the walk holds', async (said, code) => {
    const walk = await walkTo(place);
    const { index } = walk.context();
    await walk.say(said);
    expect(walk.state()).toBe('held');
    expect(walk.context().alerts).toMatchObject([{ code, words: said, kept: true }]);
    expect(walk.raised.at(-1)?.alerts).toMatchObject([{ code, words: said }]);
    expect(walk.said()).toContain(nurseText(code, 'en-US'));
    expect(walk.said()).toContain(nurse);

    await walk.say('carry on');
    const [, expected] = place;
    expect(walk.open()).toBe(after[expected] ?? expected);
    expect(walk.context().index).toBe(index);
  });
});

describe('When the plan of care names a risk of dysreflexia', () => {
  test.each(named)('$name a headache raises the warning first', async ({ place }) => {
    const walk = await walkTo(place, { dysreflexiaRisk: true });
    await walk.say('report a headache');
    expect(walk.context().alerts).toMatchObject([{ code: 'dysreflexia' }, { code: 'headache' }]);
    expect(walk.said().indexOf(nurseText('dysreflexia', 'en-US'))).toBeLessThan(
      walk.said().indexOf(nurseText('headache', 'en-US')),
    );
    expect(walk.said()).toContain(nurseText('dysreflexia', 'en-US'));
  });

  test('for a person not at risk it is a headache, and no warning', async () => {
    const walk = await walkTo(places[0]!);
    await walk.say('report a headache');
    expect(walk.context().alerts).toMatchObject([{ code: 'headache' }]);
    expect(walk.said()).not.toContain(nurseText('dysreflexia', 'en-US'));
  });
});
