import { describe, expect, it } from 'vitest';
import { alertHow, alerts, lookNames } from '../words/en-US/alerts.ts';
import { alertsRaised, alertUrgencies, isAlertCode, type AlertCode } from './alerts.ts';
import { alertsOfLooks, isLookCode, looks, type LookCode } from './looks.ts';

const codes = Object.keys(alertUrgencies) as AlertCode[];

describe('When something is told to the nurse', () => {
  it('every code has its words, and every word its code', () => {
    expect(Object.keys(alerts).sort()).toEqual([...codes].sort());
    expect(Object.keys(lookNames).sort()).toEqual(Object.keys(looks).sort());
  });

  it.each(codes)('%s: says what to do, and what to say, with a bed and no name', (code) => {
    const { said, tell, source } = alerts[code];
    expect(said.split(' ').length).toBeLessThanOrEqual(16);
    expect(tell('Bed 4')).toContain('Bed 4');
    expect(source.length).toBeGreaterThan(5);
    expect(`${said} ${tell('Bed 4')}`).not.toMatch(
      /normal|infect|retention|\bUTI\b|irrigate|clamp|flush|unplug|disconnect/i,
    );
    expect(alertHow[alertUrgencies[code]]).toMatch(/nurse/);
  });

  it.each(['headache', 'nothingDraining', 'pain', 'catheterOut', 'leak'] as const)(
    '%s warns first of dysreflexia, for a person marked at risk alone',
    (code) => {
      expect(alertsRaised(code, true)).toEqual(['dysreflexia', code]);
      expect(alertsRaised(code, false)).toEqual([code]);
    },
  );

  it('other things do not', () => {
    expect(alertsRaised('foul', true)).toEqual(['foul']);
  });

  it.each(['toString', '__proto__', 'x', ''])('%j is no code', (code) => {
    expect([isAlertCode(code), isLookCode(code)]).toEqual([false, false]);
  });
});

describe('When something was seen', () => {
  it.each<[LookCode[], AlertCode[]]>([
    [['yellow', 'clear', 'noOdour', 'noBlood'], []],
    [
      ['pink', 'cloudy'],
      ['blood', 'cloudy'],
    ],
    [
      ['red', 'someBlood', 'clots'],
      ['blood', 'clots'],
    ],
    [['coffeeGrounds'], ['vomitBlood']],
  ])('%j tells %j', (seen, told) => {
    expect(alertsOfLooks(seen)).toEqual(told);
  });

  it('a colour or a smell is a look, and concludes nothing', () => {
    expect(isLookCode('amber')).toBe(true);
    expect(looks.amber).toEqual({ aspect: 'colour' });
  });
});
