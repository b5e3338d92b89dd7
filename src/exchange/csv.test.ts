import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { entryAt, folded, measured } from '../../tests/support/entries.ts';
import { aide, draftFact, nurse, Pen, storyStart } from '../../tests/support/ledgerStory.ts';
import { cellText, csvOf } from './csv.ts';

/** RFC 4180 read back, by its own grammar. */
function parse(text: string): string[][] {
  const rows: string[][] = [];
  for (let place = 0; place < text.length;) {
    const row: string[] = [];
    for (;;) {
      const quoted = /^"((?:[^"]|"")*)"/.exec(text.slice(place));
      const plain = /^[^",\r\n]*/.exec(text.slice(place));
      const raw = quoted?.[0] ?? plain?.[0] ?? '';
      row.push(quoted ? (quoted[1] ?? '').replaceAll('""', '"') : raw);
      place += raw.length;
      if (text[place] !== ',') break;
      place += 1;
    }
    if (text.slice(place, place + 2) !== '\r\n') throw new Error(`no line end at ${place}`);
    place += 2;
    rows.push(row);
  }
  return rows;
}

describe('When a table is made', () => {
  test('its head says what each column holds, and each entry has its row', async () => {
    const pen = new Pen(storyStart + 90 * 60_000);
    const fact = draftFact({ amount: measured(950, 430), note: 'two fills, "wet"\nfloor' });
    const draft = await pen.write(aide, fact);
    const { entry } = fact;
    const amended = await pen.write(nurse, {
      type: 'entry.amended',
      entry,
      saw: draft.id,
      reason: 'misread',
      changes: { amount: { was: measured(950, 430), is: measured(1_400) } },
    });
    const [head, row, ...rest] = parse(csvOf([folded([draft, amended])]));
    expect(rest).toEqual([]);
    const cells = Object.fromEntries((head ?? []).map((name, place) => [name, row?.[place]]));
    expect(cells).toMatchObject({
      Bed: 'Bed 4',
      'Direction (intake or output)': 'output',
      'Kind of fluid': 'Urine, catheter',
      'Amount (mL; empty when not measured or still open)': '1400',
      'Amount first recorded (mL)': '1380',
      'Time of reading (ISO 8601 with UTC offset)': '2026-03-02T07:00:00+00:00',
      'Minutes from reading to record': '90',
      'Status (HL7 FHIR word and what it means)': 'preliminary (not confirmed)',
      'Reason of the last change': 'misread',
      Note: 'two fills, "wet"\nfloor',
    });
  });

  test('what was not measured is an empty amount and a count, never 0', async () => {
    const own = await entryAt(storyStart, 'urineVoided', 0, {
      amount: { method: 'unmeasured', count: 2 },
    });
    const [head, row] = parse(csvOf([own]));
    const cell = (name: RegExp) => row?.[(head ?? []).findIndex((it) => name.test(it))];
    expect([cell(/^Amount \(/), cell(/^Method/), cell(/^Episodes/)]).toEqual([
      '',
      'not measured',
      '2',
    ]);
  });

  test('an entry with nothing known is a row of empty cells, not an error', async () => {
    const own = await entryAt(storyStart, 'emesis', 0, {
      kind: null,
      amount: null,
      readAt: null,
      reader: null,
      bed: null,
      confirmed: false,
    });
    expect(parse(csvOf([own]))).toHaveLength(2);
  });
});

describe('When a cell holds what a person typed', () => {
  test.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    ' =1',
    '\u00a0=1',
    '\ufeff=1',
    '\u200b=1',
    '＝1',
    '=cmd|" /C calc"!A0',
  ])('%j does not become a formula', (text) => {
    const [[cell]] = parse(`${cellText(text)}\r\n`) as [[string]];
    expect(cell).toBe(`'${text}`);
  });

  test.each(['350', 'Bed 4', 'a=b', 'one-two', ''])('%j is left as it is', (text) => {
    expect(cellText(text)).toBe(text);
  });

  test('any text comes back whole, and none begins as a formula does', () => {
    const text = fc.oneof(
      fc.string({ unit: 'grapheme' }),
      fc.string({
        unit: fc.constantFrom('=', '+', '-', '@', '\t', '\r', '\n', '"', ',', ' ', 'a'),
      }),
    );
    fc.assert(
      fc.property(text, (raw) => {
        const [[cell]] = parse(`${cellText(raw)}\r\n`) as [[string]];
        expect([raw, `'${raw}`]).toContain(cell);
        expect(cell).not.toMatch(/^\s*[=+\-@]/);
      }),
    );
  });
});
