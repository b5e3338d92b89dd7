import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { builtIn } from './builtIn.ts';
import { importProcedure } from './checkAmong.ts';

const text = readFileSync(join(import.meta.dirname, 'en-US', 'weighed-pad.json'), 'utf8');
const lineOf = (needle: string): number => text.slice(0, text.indexOf(needle)).split('\n').length;

describe('When a unit imports its own procedure', () => {
  it('one of a known id takes the place of the known one', () => {
    expect(importProcedure(text, builtIn)).toMatchObject({ ok: true });
  });

  it('a new one may not answer to a name that is taken', () => {
    const loaded = importProcedure(
      text.replace('"id": "weighed-pad"', '"id": "night-pad"').replace('"wet pad"', '"urinal"'),
      builtIn.filter(({ id }) => id !== 'weighed-pad'),
    );
    expect(loaded).toMatchObject({
      ok: false,
      faults: [{ code: 'name_taken', about: 'urinal', line: lineOf('"wet pad"') }],
    });
  });

  it('it may not hand over to a procedure that is not there', () => {
    const loaded = importProcedure(text, []);
    expect(loaded).toMatchObject({
      ok: false,
      faults: [{ code: 'otherwise_unknown', line: lineOf('"otherwise"') }],
    });
  });

  it('an unsound file is refused for what is wrong in it, whatever stands beside', () => {
    const loaded = importProcedure(text.replace('"zeroScale", ', ''), builtIn);
    expect(loaded).toMatchObject({ ok: false, faults: [{ code: 'scale_not_zeroed' }] });
  });
});
