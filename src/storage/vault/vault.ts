import * as v from 'valibot';
import type { Author } from '../../charting/events.ts';
import type { Cipher } from '../cipher.ts';
import { fromBase64, toBase64 } from './base64.ts';
import { newRecoveryCode, readRecoveryCode } from './recoveryCode.ts';
import { masterBytes, sealedCipher } from './sealedCipher.ts';
import { leastCost, stretch, type StretchCost } from './stretch.ts';

const initials = v.pipe(v.string(), v.minLength(1), v.maxLength(8));
const role = v.picklist(['aide', 'nurse', 'setup']);
const slotSchema = v.strictObject({
  /** `pin` is one person's; `unit` is shared, and says who by asking; `recovery` is the way back. */
  kind: v.picklist(['pin', 'unit', 'recovery']),
  by: v.strictObject({ initials, role }),
  salt: v.string(),
  cost: v.strictObject({
    memory: v.pipe(v.number(), v.integer(), v.minValue(leastCost.memory)),
    passes: v.pipe(v.number(), v.integer(), v.minValue(leastCost.passes)),
  }),
  nonce: v.string(),
  wrapped: v.string(),
});

/** What is kept of the lock, in the clear: who may open, and the master wrapped for each. */
export const vaultSchema = v.strictObject({
  v: v.literal(1),
  slots: v.pipe(v.array(slotSchema), v.minLength(1)),
  /** Wrong tries since the last right one, and when the last was, ms since the Unix epoch. */
  wrong: v.strictObject({ count: v.pipe(v.number(), v.integer(), v.minValue(0)), at: v.number() }),
});

export type VaultRecord = v.InferOutput<typeof vaultSchema>;
type Slot = VaultRecord['slots'][number];

/** An open vault. It holds the master; drop it to lock. */
export interface OpenVault {
  readonly cipher: Cipher;
  readonly by: Author;
  readonly kind: Slot['kind'];
  readonly master: Uint8Array<ArrayBuffer>;
}

export type Unlocked =
  | { readonly ok: true; readonly vault: OpenVault; readonly record: VaultRecord }
  | {
      readonly ok: false;
      /** `slot_missing`: there is nobody with these initials, or no shared passcode. */
      readonly fault: 'pin_wrong' | 'pin_wait' | 'slot_missing';
      readonly record: VaultRecord;
      /** Until when no try is taken, ms since the Unix epoch. */
      readonly until: number;
    };

export interface Secret {
  readonly kind: 'pin' | 'unit';
  readonly by: Author;
  /** The PIN or passcode as typed, {@link shortestPin} characters or more. */
  readonly pin: string;
}

export const shortestPin = 6;

/** A new vault with its first secret, and the recovery code that is shown once and kept nowhere. */
export async function newVault(first: Secret, cost: StretchCost) {
  const master = crypto.getRandomValues(new Uint8Array(masterBytes));
  const code = newRecoveryCode(crypto.getRandomValues(new Uint8Array(20)));
  const slots = [
    await slotOf(master, first.kind, first.by, first.pin, cost),
    await slotOf(master, 'recovery', first.by, code, cost),
  ];
  const record: VaultRecord = { v: 1, slots, wrong: { count: 0, at: 0 } };
  const vault = await opened(master, first.by, first.kind);
  return { record, vault, code };
}

/** Add a person, or give one a new PIN: their old one opens nothing any more. */
export async function withSecret(
  record: VaultRecord,
  { master }: OpenVault,
  { kind, by, pin }: Secret,
  cost: StretchCost,
): Promise<VaultRecord> {
  const rest = record.slots.filter((slot) => !(slot.kind === kind && same(slot, by.initials)));
  return { ...record, slots: [...rest, await slotOf(master, kind, by, pin, cost)] };
}

/** Take a person out. The last one with the set-up role stays, so that the unit is never shut out. */
export function withoutPerson(record: VaultRecord, who: string): VaultRecord {
  const slots = record.slots.filter((slot) => slot.kind === 'recovery' || !same(slot, who));
  const keeps = slots.some(({ kind, by }) => kind !== 'recovery' && by.role === 'setup');
  return keeps ? { ...record, slots } : record;
}

/** How long after so many wrong tries in a row no other is taken, ms. */
export function waitAfter(wrong: number): number {
  return wrong < 3 ? 0 : Math.min(1_000 * 2 ** (wrong - 2), 15 * 60_000);
}

/**
 * Try a PIN, passcode or recovery code. The record that comes back counts the try and must be kept.
 *
 * @param who - initials, or null for the unit's passcode or the recovery code
 * @param now - ms since the Unix epoch
 */
export async function unlock(
  record: VaultRecord,
  who: string | null,
  pin: string,
  now: number,
): Promise<Unlocked> {
  const { count, at } = record.wrong;
  const until = at + waitAfter(count);
  // A clock set back must not shut the ward out for longer than one wait.
  if (now < until && now >= at) return { ok: false, fault: 'pin_wait', record, until };
  const slots = record.slots.filter((slot) =>
    who === null ? slot.kind !== 'pin' : slot.kind === 'pin' && same(slot, who),
  );
  for (const slot of slots) {
    const master = await unwrapped(slot, pin);
    if (master === null) continue;
    const vault = await opened(master, slot.by, slot.kind);
    return { ok: true, vault, record: { ...record, wrong: { count: 0, at: now } } };
  }
  const wrong = { count: count + 1, at: now };
  return {
    ok: false,
    fault: slots.length === 0 ? 'slot_missing' : 'pin_wrong',
    record: { ...record, wrong },
    until: now + waitAfter(wrong.count),
  };
}

async function opened(
  master: Uint8Array<ArrayBuffer>,
  by: Author,
  kind: Slot['kind'],
): Promise<OpenVault> {
  return { cipher: await sealedCipher(master), by, kind, master };
}

async function slotOf(
  master: Uint8Array<ArrayBuffer>,
  kind: Slot['kind'],
  by: Author,
  secret: string,
  cost: StretchCost,
): Promise<Slot> {
  if (secret.length < shortestPin) {
    throw new RangeError(`pin_short: expected ${shortestPin} characters or more`);
  }
  const salt = crypto.getRandomValues(new Uint8Array(16));
  const nonce = crypto.getRandomValues(new Uint8Array(12));
  const key = await stretch(secretText(kind, secret), salt, cost);
  const algorithm = { name: 'AES-GCM', iv: nonce, additionalData: label(kind, by) };
  const wrapped = new Uint8Array(await crypto.subtle.encrypt(algorithm, key, master));
  return {
    kind,
    by: { initials: by.initials, role: by.role },
    salt: toBase64(salt),
    cost,
    nonce: toBase64(nonce),
    wrapped: toBase64(wrapped),
  };
}

async function unwrapped(slot: Slot, pin: string): Promise<Uint8Array<ArrayBuffer> | null> {
  const key = await stretch(secretText(slot.kind, pin), fromBase64(slot.salt), slot.cost);
  const additionalData = label(slot.kind, slot.by);
  const algorithm = { name: 'AES-GCM', iv: fromBase64(slot.nonce), additionalData };
  try {
    return new Uint8Array(await crypto.subtle.decrypt(algorithm, key, fromBase64(slot.wrapped)));
  } catch {
    return null; // a wrong PIN, or a slot whose name or role was changed: AES-GCM tells neither
  }
}

/** Bound to the wrapping, so that nobody becomes a nurse by editing the stored record. */
function label(kind: Slot['kind'], by: Author): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(JSON.stringify([kind, by.initials, by.role]));
}

function secretText(kind: Slot['kind'], typed: string): string {
  return kind === 'recovery' ? readRecoveryCode(typed) : typed;
}

function same(slot: Slot, who: string): boolean {
  return slot.by.initials.toLowerCase() === who.toLowerCase();
}
