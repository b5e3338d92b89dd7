import { describe, expect, it } from 'vitest';
import { defaultContainers } from '../../src/measure/containers.ts';
import { millilitres as mL } from '../../src/measure/volume.ts';
import { judgeDrill } from '../../src/procedures/readingDrill.ts';

const graduate = defaultContainers[0]!.item;
const judge = (level: number, said: number, tolerance?: number) =>
  judgeDrill(
    graduate,
    mL(level),
    mL(said),
    'nearest',
    tolerance === undefined ? undefined : mL(tolerance),
  );

describe('When a reading is judged by the NNAAP tolerance, 25 mL either way, inclusive (read)', () => {
  it.each([
    [324, false],
    [325, true],
    [350, true],
    [375, true],
    [376, false],
  ])('true 350, said %d', (said, within) => {
    expect(judge(350, said).within).toBe(within);
  });

  it('one older instructor checklist (read, weak) has 50: a setting', () => {
    expect(judge(350, 400, 50).within).toBe(true);
    expect(judge(350, 401, 50).within).toBe(false);
  });

  it('between lines: 362 is 350 by the nearest line, 375 by "up" (from memory)', () => {
    expect(judgeDrill(graduate, mL(362), mL(350), 'nearest')).toMatchObject({
      line: 350,
      exact: true,
    });
    expect(judgeDrill(graduate, mL(362), mL(375), 'up')).toMatchObject({ line: 375, exact: true });
  });
});
