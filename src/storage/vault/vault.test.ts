import 'fake-indexeddb/auto';
import { argon2id as nobleArgon2id } from '@noble/hashes/argon2.js';
import { IDBFactory } from 'fake-indexeddb';
import * as v from 'valibot';
import { beforeAll, describe, expect, test } from 'vitest';
import { runLedgerContract } from '../../../tests/support/ledgerContract.ts';
import { aide, draftFact, nurse, Pen } from '../../../tests/support/ledgerStory.ts';
import { strictRules } from '../../charting/reviewRules.ts';
import { BrowserLedger } from '../browserLedger.ts';
import { Database } from '../database.ts';
import { fromBase64, toBase64 } from './base64.ts';
import { newRecoveryCode, readRecoveryCode } from './recoveryCode.ts';
import { masterBytes, sealedCipher } from './sealedCipher.ts';
import { calibrated, leastCost, mostCost, stretch, type StretchCost } from './stretch.ts';
import {
  newVault,
  shortestPin,
  unlock,
  vaultSchema,
  waitAfter,
  membersOf,
  withRecoveryCode,
  withRoster,
  withSecret,
  type OpenVault,
  type VaultRecord,
} from './vault.ts';

const setup = { initials: 'SU', role: 'setup' } as const;
const now = Date.UTC(2026, 2, 2, 7);
const bytes = (text: string) => new TextEncoder().encode(text);

let record: VaultRecord;
let code: string;
let open: OpenVault;

beforeAll(async () => {
  const made = await newVault({ kind: 'pin', by: setup, pin: '480271' }, leastCost);
  code = made.code;
  open = made.vault;
  record = await withSecret(
    made.record,
    open,
    { kind: 'pin', by: nurse, pin: '135790' },
    leastCost,
  );
});

/** What was sealed with the first vault opens with this one. */
async function opensTheSame(vault: OpenVault): Promise<boolean> {
  const sealed = await open.cipher.seal(bytes('350 mL'));
  return new TextDecoder().decode(await vault.cipher.open(sealed)) === '350 mL';
}

describe('When a PIN is tried', { timeout: 60_000 }, () => {
  test.each([
    ['SU', '480271', setup],
    ['su', '480271', setup],
    ['RN', '135790', nurse],
  ])('%s with the right one opens the same record', async (who, pin, by) => {
    const done = await unlock(record, who, pin, now);
    if (!done.ok) throw new Error(done.fault);
    expect(done.vault.by).toEqual(by);
    expect(done.record.wrong.count).toBe(0);
    expect(await opensTheSame(done.vault)).toBe(true);
  });

  test('a wrong one is counted, and one of another person is wrong', async () => {
    const done = await unlock(record, 'RN', '480271', now);
    expect(done).toMatchObject({ ok: false, fault: 'pin_wrong', record: { wrong: { count: 1 } } });
    expect(await unlock(record, 'XX', '480271', now)).toMatchObject({
      ok: false,
      fault: 'slot_missing',
      record: { wrong: { count: 1 } },
    });
  });

  test('after three wrong ones no try is taken until the wait is over, the right one neither', async () => {
    const wrong = { ...record, wrong: { count: 3, at: now } };
    expect(await unlock(wrong, 'RN', '135790', now + waitAfter(3) - 1)).toEqual({
      ok: false,
      fault: 'pin_wait',
      record: wrong,
      until: now + waitAfter(3),
    });
    expect(await unlock(wrong, 'RN', '135790', now + waitAfter(3))).toMatchObject({ ok: true });
  });

  test('a clock set back does not lengthen the wait', async () => {
    const wrong = { ...record, wrong: { count: 9, at: now } };
    expect(await unlock(wrong, 'RN', '135790', now - 1)).toMatchObject({ ok: true });
  });

  test('waits double, to a quarter of an hour', () => {
    expect([0, 1, 2, 3, 4, 5, 12, 1_000].map(waitAfter)).toEqual([
      0, 0, 0, 2_000, 4_000, 8_000, 900_000, 900_000,
    ]);
  });
});

describe('When a PIN is forgotten', { timeout: 60_000 }, () => {
  test('the recovery code opens, however it is written, and gives a new PIN', async () => {
    const typed = ` ${code.toLowerCase().replaceAll('-', ' ').replaceAll('0', 'o')} `;
    const done = await unlock(record, null, typed, now);
    if (!done.ok) throw new Error(done.fault);
    expect(done.vault).toMatchObject({ kind: 'recovery', by: setup });
    const renewed = await withSecret(
      done.record,
      done.vault,
      { kind: 'pin', by: setup, pin: '999111' },
      leastCost,
    );
    expect(await unlock(renewed, 'SU', '480271', now)).toMatchObject({ fault: 'pin_wrong' });
    expect(await unlock(renewed, 'SU', '999111', now)).toMatchObject({ ok: true });
  });

  test('the code is 160 bits in eight groups, and stands nowhere in the record', () => {
    expect(code).toMatch(/^([0-9A-HJKMNP-TV-Z]{4}-){7}[0-9A-HJKMNP-TV-Z]{4}$/);
    expect(JSON.stringify(record)).not.toContain(readRecoveryCode(code));
    expect(newRecoveryCode(new Uint8Array(20))).toBe('0000-0000-0000-0000-0000-0000-0000-0000');
    expect(newRecoveryCode(new Uint8Array(20).fill(255))).toBe(
      'ZZZZ-ZZZZ-ZZZZ-ZZZZ-ZZZZ-ZZZZ-ZZZZ-ZZZZ',
    );
  });
});

describe('When the stored lock is tampered with', () => {
  const turned = (change: (slot: VaultRecord['slots'][number]) => object): VaultRecord => ({
    ...record,
    slots: record.slots.map((slot) => ({ ...slot, ...change(slot) })),
  });

  test.each([
    ['taken for another kind', { kind: 'recovery' }],
    ['given another tag', { tag: 'AAAA' }],
    ['given another id', { id: 'other' }],
  ] as const)('a slot that was %s opens nothing', async (_, change) => {
    const changed = turned((slot) => (slot.kind === 'pin' ? change : {}));
    for (const who of ['RN', null]) {
      expect(await unlock(changed, who, '135790', now)).toMatchObject({ ok: false });
    }
  });

  test('a slot that was taken out and put back opens nothing', async () => {
    const without = await withRoster(record, open, [setup]);
    if (without === null) throw new Error('shut out');
    const back = { ...without, slots: record.slots };
    expect(await unlock(back, 'RN', '135790', now)).toMatchObject({ fault: 'pin_wrong' });
  });

  test('a cheaper cost than the least is no lock of ours', () => {
    expect(v.is(vaultSchema, record)).toBe(true);
    expect(
      v.is(
        vaultSchema,
        turned(() => ({ cost: { memory: 8, passes: 1 } })),
      ),
    ).toBe(false);
  });
});

describe('When people come and go', { timeout: 60_000 }, () => {
  test('who is not on the roster any more opens nothing', async () => {
    const without = await withRoster(record, open, [setup]);
    if (without === null) throw new Error('shut out');
    expect(await unlock(without, 'RN', '135790', now)).toMatchObject({ fault: 'slot_missing' });
    expect(await unlock(without, 'SU', '480271', now)).toMatchObject({ ok: true });
    expect(await membersOf(without, open)).toEqual([setup]);
  });

  test('a role is the roster’s, with the same PIN', async () => {
    const changed = await withRoster(record, open, [setup, { initials: 'RN', role: 'aide' }]);
    if (changed === null) throw new Error('shut out');
    const done = await unlock(changed, 'RN', '135790', now);
    expect(done).toMatchObject({ ok: true, vault: { by: { initials: 'RN', role: 'aide' } } });
  });

  test('the last with the set-up role stays', async () => {
    expect(await withRoster(record, open, [nurse])).toBeNull();
    expect(await withRoster(record, open, [nurse, { ...setup, role: 'nurse' }])).toBeNull();
  });

  test('a new recovery code takes the place of the old', async () => {
    const renewed = await withRecoveryCode(record, open, leastCost);
    expect(await unlock(renewed.record, null, code, now)).toMatchObject({ fault: 'pin_wrong' });
    expect(await unlock(renewed.record, null, renewed.code, now)).toMatchObject({ ok: true });
  });

  test('no initials and no roles stand in what is kept', () => {
    expect(JSON.stringify(record)).not.toMatch(/"(RN|SU|rn|su|nurse|setup|aide)"/);
  });

  test('a unit’s passcode opens without initials', async () => {
    const shared = { kind: 'unit', by: aide, pin: 'blue kettle' } as const;
    const own = await withSecret(record, open, shared, leastCost);
    const done = await unlock(own, null, 'blue kettle', now);
    expect(done).toMatchObject({ ok: true, vault: { kind: 'unit', by: aide } });
    expect(await unlock(own, null, 'blue kettles', now)).toMatchObject({ fault: 'pin_wrong' });
  });

  test('a short PIN is not taken', async () => {
    const pin = '1'.repeat(shortestPin - 1);
    await expect(
      withSecret(record, open, { kind: 'pin', by: aide, pin }, leastCost),
    ).rejects.toThrow('pin_short');
  });
});

describe('When a payload is sealed', () => {
  test('it does not show, differs each time, and opens again', async () => {
    const { cipher } = open;
    const [one, other] = await Promise.all([1, 2].map(() => cipher.seal(bytes('Bed 4, 350 mL'))));
    if (!one || !other) throw new Error('nothing sealed');
    expect(toBase64(one)).not.toBe(toBase64(other));
    expect(new TextDecoder().decode(one)).not.toContain('Bed');
    expect(new TextDecoder().decode(await cipher.open(other))).toBe('Bed 4, 350 mL');
  });

  test('one bit changed, cut short or sealed with another key, it opens no more', async () => {
    const sealed = await open.cipher.seal(bytes('350 mL'));
    const bent = Uint8Array.from(sealed, (byte, place) => (place === 20 ? byte ^ 1 : byte));
    const other = await sealedCipher(new Uint8Array(masterBytes));
    for (const attempt of [
      () => open.cipher.open(bent),
      () => open.cipher.open(sealed.slice(0, 20)),
      () => open.cipher.open(sealed.slice(0, 5)),
      () => other.open(sealed),
    ]) {
      await expect(attempt()).rejects.toThrow('seal_broken');
    }
  });

  test('a tag is the same for the same text and key only', async () => {
    const other = await sealedCipher(new Uint8Array(masterBytes));
    const [one, again, next, foreign] = await Promise.all([
      open.cipher.tag('Bed 4'),
      open.cipher.tag('Bed 4'),
      open.cipher.tag('Bed 5'),
      other.tag('Bed 4'),
    ]);
    expect(one).toBe(again);
    expect(new Set([one, next, foreign]).size).toBe(3);
  });

  test('nothing of an event stands readable in the database', async () => {
    const factory = new IDBFactory();
    const database = new Database(factory, 'record', () => 'mark');
    const ledger = new BrowserLedger(database, open.cipher, () => strictRules);
    await ledger.append([
      await new Pen().write(aide, draftFact({ bed: 'Bed 4711', note: 'unmistakable words' })),
    ]);
    const stored = await database.use(['events', 'groups'], 'readonly', async (tx) => {
      const requests = (['events', 'groups'] as const).map((name) => tx.objectStore(name).getAll());
      return Promise.all(
        requests.map(
          (request) =>
            new Promise<unknown[]>(
              (resolve) => (request.onsuccess = () => resolve(request.result)),
            ),
        ),
      );
    });
    if (!stored.ok) throw new Error(stored.fault);
    const text = JSON.stringify(stored.value, (_, value: unknown) =>
      value instanceof Uint8Array ? new TextDecoder('latin1').decode(value) : value,
    );
    expect(stored.value.map((rows) => rows.length)).toEqual([1, 1]);
    // Long words only: random bytes make short ones by chance.
    expect(text).not.toMatch(/Bed 4711|unmistakable|initials|measured|urineCatheter/);
  });
});

runLedgerContract('in IndexedDB, encrypted', async () => {
  const cipher = await sealedCipher(crypto.getRandomValues(new Uint8Array(masterBytes)));
  const database = new Database(new IDBFactory(), 'record', () => 'mark');
  return new BrowserLedger(database, cipher, () => strictRules);
});

describe('When a PIN is stretched', { timeout: 60_000 }, () => {
  test('it is Argon2id as an independent implementation has it', async () => {
    const salt = Uint8Array.from({ length: 16 }, (_, n) => n);
    const raw = nobleArgon2id('480271', salt, {
      m: leastCost.memory,
      t: leastCost.passes,
      p: 1,
      dkLen: 32,
    });
    const own = await stretch('480271', salt, leastCost);
    const same = await crypto.subtle.importKey('raw', Uint8Array.from(raw), 'AES-GCM', false, [
      'decrypt',
    ]);
    const algorithm = { name: 'AES-GCM', iv: new Uint8Array(12) };
    const sealed = await crypto.subtle.encrypt(algorithm, own, bytes('x'));
    expect(new Uint8Array(await crypto.subtle.decrypt(algorithm, same, sealed))).toEqual(
      bytes('x'),
    );
  });

  const speed = (msPerMiBPass: number) => async (cost: StretchCost) =>
    (cost.memory / 1_024) * cost.passes * msPerMiBPass;

  test.each([
    ['a slow phone', 20, leastCost],
    ['a tablet', 3, { memory: 64 * 1_024, passes: 2 }],
    ['a quick machine', 0.8, { memory: 64 * 1_024, passes: 7 }],
    ['the quickest', 0.001, mostCost],
  ])('%s gets what it can bear, and never less than the least', async (_, ms, cost) => {
    expect(await calibrated(speed(ms))).toEqual(cost);
  });
});

test('base64 comes back', () => {
  const all = Uint8Array.from({ length: 256 }, (_, n) => n);
  expect(fromBase64(toBase64(all))).toEqual(all);
});
