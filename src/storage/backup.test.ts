import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { aide, digest, draftFact, newId, nurse, Pen } from '../../tests/support/ledgerStory.ts';
import { hashOf } from '../charting/chain.ts';
import type { LedgerEvent } from '../charting/events.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { backupLines, checkBackup, eventsOf, type BackupTools } from './backup.ts';
import { fileLines, longestLine } from './fileLines.ts';
import type { Ledger } from './ledger.ts';
import { MemoryLedger } from './memoryLedger.ts';
import { restoreBackup } from './restore.ts';
import { runningSha256, webDigest } from './sha256.ts';

const tools: BackupTools = { digest, newHash: runningSha256 };
const made = '2026-03-02T12:00:00+00:00';
const empty = () => new MemoryLedger(() => strictRules);

async function textOf(events: AsyncIterable<LedgerEvent> | Iterable<LedgerEvent>): Promise<string> {
  let text = '';
  for await (const line of backupLines(events, made, tools)) text += line;
  return text;
}

const linesOf = (text: string) => fileLines(new Blob([text]));

async function contents(ledger: Ledger): Promise<LedgerEvent[]> {
  const events: LedgerEvent[] = [];
  for await (const event of eventsOf(ledger, 3)) events.push(event);
  return events;
}

let ledger: Ledger;
let backup: string;
let lines: string[];

beforeAll(async () => {
  ledger = empty();
  const pen = new Pen();
  const other = new Pen();
  for (let n = 0; n < 4; n += 1) {
    const draft = await pen.write(aide, draftFact({ note: `note ${n}\u2028 é "x"` }));
    const saw = draft.id;
    const confirmed = await other.write(nurse, {
      type: 'entry.confirmed',
      entry: draft.entry,
      saw,
    });
    await ledger.append([draft, confirmed]);
  }
  backup = await textOf(eventsOf(ledger));
  lines = backup.split('\n').slice(0, -1);
});

const restore = (into: Ledger, text: string) => restoreBackup(into, () => linesOf(text), tools, 3);

/** The backup with one line made anew, and its checksum made to fit if asked. */
async function edited(
  line: number,
  change: (text: string) => string,
  fit = false,
): Promise<string> {
  const all = lines.map((text, place) => (place === line - 1 ? change(text) : text));
  if (!fit) return `${all.join('\n')}\n`;
  const body = all.slice(0, -1).map((text) => `${text}\n`);
  const hash = await runningSha256();
  for (const text of body) hash.add(text);
  const end = JSON.parse(all.at(-1) ?? '') as object;
  return `${body.join('')}${JSON.stringify({ ...end, sha256: hash.end() })}\n`;
}

describe('When a backup is restored', () => {
  test('an empty ledger has all of it, byte for byte when backed up again', async () => {
    const into = empty();
    expect(await restore(into, backup)).toEqual({ ok: true, added: 8, known: 0, faults: [] });
    expect(await contents(into)).toEqual(await contents(ledger));
    expect(await textOf(eventsOf(into))).toBe(backup);
  });

  test('twice changes nothing', async () => {
    const into = empty();
    await restore(into, backup);
    expect(await restore(into, backup)).toEqual({ ok: true, added: 0, known: 8, faults: [] });
    expect(await into.count()).toEqual({ ok: true, value: 8 });
  });

  test('what the ledger has besides stays', async () => {
    const into = empty();
    const own = await new Pen().write(aide, draftFact());
    await into.append([own]);
    expect(await restore(into, backup)).toMatchObject({ ok: true, added: 8 });
    expect(await into.group(own.entry)).toEqual({ ok: true, value: [own] });
  });

  test('a record that had a gap comes back with it, and says so', async () => {
    const events = (await contents(ledger)).slice(1);
    const text = await textOf(events);
    expect(await restore(empty(), text)).toMatchObject({
      ok: true,
      added: 7,
      faults: [{ code: 'event_missing', seq: 1 }],
    });
  });

  test('a store that fills up on the way says how far it came, and goes on from there', async () => {
    const into = empty();
    let room = 1;
    const tight: Ledger = {
      append: async (events) => {
        room -= 1;
        return room < 0 ? { ok: false, fault: 'storage_full' } : into.append(events);
      },
      groups: (query) => into.groups(query),
      group: (id) => into.group(id),
      countOpen: (kind) => into.countOpen(kind),
      tail: (device) => into.tail(device),
      read: (after, limit) => into.read(after, limit),
      count: () => into.count(),
      subscribe: (listener) => into.subscribe(listener),
    };
    const full = { ok: false, refused: false, fault: 'storage_full', added: 3 };
    expect(await restore(tight, backup)).toEqual(full);
    room = 10;
    expect(await restore(tight, backup)).toMatchObject({ ok: true, added: 5, known: 3 });
  });
});

describe('When a backup is broken', () => {
  let into: Ledger;
  beforeEach(() => (into = empty()));

  const refused = async (text: string, fault: string, line: number, field = '') => {
    expect(await restore(into, text)).toEqual({ ok: false, refused: true, fault, line, field });
    expect(await into.count()).toEqual({ ok: true, value: 0 });
  };

  test('cut at any line it is refused', async () => {
    for (let count = 1; count < lines.length; count += 1) {
      await refused(lines.slice(0, count).join('\n'), 'backup_cut', count + 1);
    }
    await refused('', 'backup_cut', 1);
  });

  test('cut in the middle of a line, that line is named', async () => {
    const start = lines.slice(0, 3).join('\n');
    await refused(`${start}\n${lines[3]?.slice(0, 50)}`, 'backup_malformed', 4);
  });

  test('an amount edited by hand is named with its line, with a new checksum or not', async () => {
    const line = lines.findIndex((text) => text.includes('"mL":350')) + 1;
    const change = (text: string) => text.replaceAll('350', '400');
    await refused(await edited(line, change), 'event_edited', line);
    await refused(await edited(line, change, true), 'event_edited', line);
  });

  test('an event made anew with a fitting hash breaks the one after it', async () => {
    const place = lines.findIndex((text) => text.includes('"mL":350'));
    const event = JSON.parse((lines[place] ?? '').replaceAll('350', '400')) as LedgerEvent;
    const forged = JSON.stringify({ ...event, hash: await hashOf(event, digest) });
    await refused(await edited(place + 1, () => forged, true), 'event_replaced', place + 2);
  });

  test('a line taken out, put elsewhere or doubled is named', async () => {
    const out = lines.filter((_, place) => place !== 2);
    await refused(`${out.join('\n')}\n`, 'event_missing', 3);
    const turned = [...lines];
    [turned[2], turned[3]] = [turned[3] ?? '', turned[2] ?? ''];
    await refused(`${turned.join('\n')}\n`, 'event_missing', 3);
    const doubled = lines.flatMap((text, place) => (place === 2 ? [text, text] : [text]));
    await refused(`${doubled.join('\n')}\n`, 'event_forked', 4);
  });

  test('the head edited is a checksum that does not fit', async () => {
    const text = await edited(1, (head) => head.replace('2026', '2025'));
    await refused(text, 'backup_checksum', lines.length);
  });

  test('a count that does not fit is told', async () => {
    const change = (count: number) => (end: string) =>
      end.replace('"events":8', `"events":${count}`);
    await refused(await edited(lines.length, change(9)), 'backup_cut', lines.length);
    await refused(await edited(lines.length, change(7)), 'backup_extra', lines.length);
  });

  test('something behind the end is refused', async () => {
    await refused(`${backup}${lines[1]}\n`, 'backup_extra', lines.length + 1);
  });

  test.each([
    ['a table', 'bed,amount\nBed 4,350\n'],
    ['an empty line', '\n'],
    ['binary', '\u0000\u0001\u0002'],
    ['a page', '<html></html>'],
    ['other JSON', '{"format":"other","v":1,"made":""}'],
  ])('%s is no backup', async (_, text) => {
    await refused(text, 'backup_malformed', 1);
  });

  test('a newer backup, or a newer event in it, is told as newer', async () => {
    await refused(await edited(1, (head) => head.replace('"v":1', '"v":2')), 'backup_newer', 1);
    const newer = await edited(3, (text) => text.replace('"v":1', '"v":2'), true);
    await refused(newer, 'backup_newer', 3, 'v');
  });

  test('a field that no event has is named', async () => {
    const odd = await edited(3, (text) => text.replace('{', '{"status":"corrected",'), true);
    await refused(odd, 'event_malformed', 3, 'status');
  });

  test('an event that says something else than the kept one is refused, and both stay', async () => {
    const [kept] = await contents(ledger);
    if (kept === undefined) throw new Error('no event');
    const other = { ...kept, by: { initials: 'XX', role: 'aide' as const } };
    await into.append([other]);
    expect(await restore(into, backup)).toMatchObject({ refused: true, fault: 'event_differs' });
    const moved = empty();
    await moved.append([{ ...kept, device: newId() }]);
    expect(await restore(moved, backup)).toMatchObject({ refused: true, fault: 'event_differs' });
    const forked = empty();
    await forked.append([{ ...kept, id: newId() }]);
    expect(await restore(forked, backup)).toMatchObject({ refused: true, fault: 'chain_forked' });
    expect(await forked.count()).toEqual({ ok: true, value: 1 });
  });

  test('a file of a million lines that is no backup is left at its first wrong line', async () => {
    let read = 0;
    function* million(): Generator<string> {
      for (; read < 1_000_000;) {
        read += 1;
        yield read === 1 ? (lines[0] ?? '') : '{}';
      }
    }
    expect(await checkBackup(million(), tools)).toMatchObject({
      ok: false,
      fault: 'event_malformed',
      line: 2,
    });
    expect(read).toBe(2);
  });

  test('one endless line is cut off, not taken into memory', async () => {
    const file = new Blob(Array.from({ length: 40 }, () => 'x'.repeat(100_000)));
    const got: string[] = [];
    for await (const line of fileLines(file)) got.push(line);
    expect(got.map(({ length }) => length)).toEqual([longestLine]);
  });

  test('bytes that are no UTF-8 do not pass', async () => {
    const bytes = new TextEncoder().encode(backup);
    const at = bytes.indexOf(0xc3);
    bytes[at] = 0xff;
    const lines = () => fileLines(new Blob([bytes]));
    const done = await restoreBackup(into, lines, tools);
    expect(done).toMatchObject({ ok: false, refused: true, fault: 'event_edited' });
  });
});

test('both hashes are SHA-256', async () => {
  // FIPS 180-2, appendix B.1: the digest of "abc".
  const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
  expect(await webDigest(new TextEncoder().encode('abc'))).toBe(abc);
  const running = await runningSha256();
  running.add('a');
  running.add('bc');
  expect(running.end()).toBe(abc);
});
