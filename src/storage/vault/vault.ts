import * as v from 'valibot';
import type { Author } from '../../charting/events.ts';
import { openJson, sealJson, type Cipher } from '../cipher.ts';
import { fromBase64, toBase64 } from './base64.ts';
import { newRecoveryCode, readRecoveryCode } from './recoveryCode.ts';
import { masterBytes, sealedCipher } from './sealedCipher.ts';
import { leastCost, stretch, type StretchCost } from './stretch.ts';

const initials = v.pipe(v.string(), v.minLength(1), v.maxLength(8));
const role = v.picklist(['aide', 'nurse', 'setup']);
const kind = v.picklist(['pin', 'unit', 'recovery']);
const slotSchema = v.strictObject({
  id: v.string(),
  /** `pin` is one person's; `unit` is shared, and says who by asking; `recovery` is the way back. */
  kind,
  /** Finds a person's slot by the initials without showing them; empty for the other kinds. */
  tag: v.string(),
  salt: v.string(),
  cost: v.strictObject({
    memory: v.pipe(v.number(), v.integer(), v.minValue(leastCost.memory)),
    passes: v.pipe(v.number(), v.integer(), v.minValue(leastCost.passes)),
  }),
  nonce: v.string(),
  wrapped: v.string(),
});

/** What is kept of the lock, in the clear: the master wrapped for each who may open. */
export const vaultSchema = v.strictObject({
  v: v.literal(1),
  /** Salt of the tags. */
  salt: v.string(),
  slots: v.pipe(v.array(slotSchema), v.minLength(1)),
  /** Who stands behind each slot, and in which role; sealed like the record. */
  people: v.string(),
  /** Wrong tries since the last right one, and when the last was, ms since the Unix epoch. */
  wrong: v.strictObject({ count: v.pipe(v.number(), v.integer(), v.minValue(0)), at: v.number() }),
});

const peopleSchema = v.array(
  v.strictObject({ id: v.string(), kind, by: v.strictObject({ initials, role }) }),
);

export type VaultRecord = v.InferOutput<typeof vaultSchema>;
type Slot = VaultRecord['slots'][number];
type People = v.InferOutput<typeof peopleSchema>;

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
  const vault = { cipher: await sealedCipher(master), by: first.by, kind: first.kind, master };
  const empty: VaultRecord = {
    v: 1,
    salt: toBase64(crypto.getRandomValues(new Uint8Array(16))),
    slots: [],
    people: await sealedPeople(vault, []),
    wrong: { count: 0, at: 0 },
  };
  const opening = await withSecret(empty, vault, first, cost);
  const { record, code } = await withRecoveryCode(opening, vault, cost);
  return { record, vault, code };
}

/** Add a person, or give one a new PIN: their old one opens nothing any more. */
export function withSecret(
  record: VaultRecord,
  vault: OpenVault,
  { kind, by, pin }: Secret,
  cost: StretchCost,
): Promise<VaultRecord> {
  return withSlot(record, vault, { kind, by, secret: pin, cost });
}

/** A fresh recovery code; the one before opens nothing any more. */
export async function withRecoveryCode(
  record: VaultRecord,
  vault: OpenVault,
  cost: StretchCost,
): Promise<{ readonly record: VaultRecord; readonly code: string }> {
  const code = newRecoveryCode(crypto.getRandomValues(new Uint8Array(20)));
  const { by } = vault;
  return {
    record: await withSlot(record, vault, { kind: 'recovery', by, secret: code, cost }),
    code,
  };
}

/** Who has a PIN, and in which role. */
export async function membersOf(record: VaultRecord, vault: OpenVault): Promise<readonly Author[]> {
  const people = await peopleOf(record, vault);
  return people.filter(({ kind }) => kind === 'pin').map(({ by }) => by);
}

/**
 * Bring the PINs in line with the unit's roster: who is not on it any more opens nothing, and roles are
 * the roster's.
 *
 * @returns null where nobody with the set-up role would be left: the unit would be shut out
 */
export async function withRoster(
  record: VaultRecord,
  vault: OpenVault,
  roster: readonly Author[],
): Promise<VaultRecord | null> {
  const before = await peopleOf(record, vault);
  const people = before.flatMap((person) => {
    if (person.kind !== 'pin') return [person];
    const member = roster.find((each) => sameInitials(each.initials, person.by.initials));
    return member === undefined ? [] : [{ ...person, by: { ...person.by, role: member.role } }];
  });
  const pins = people.filter(({ kind }) => kind === 'pin');
  const hadPins = before.some(({ kind }) => kind === 'pin');
  if (hadPins && !pins.some(({ by }) => by.role === 'setup')) return null;
  const ids = new Set(people.map(({ id }) => id));
  const slots = record.slots.filter(({ id }) => ids.has(id));
  return { ...record, slots, people: await sealedPeople(vault, people) };
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
  const tag = who === null ? null : await tagOf(record.salt, who);
  const slots = record.slots.filter((slot) =>
    tag === null ? slot.kind !== 'pin' : slot.kind === 'pin' && slot.tag === tag,
  );
  for (const slot of slots) {
    const master = await unwrapped(slot, pin);
    if (master === null) continue;
    const vault = await openedBy(record, slot, master);
    if (vault === null) continue;
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

/** Null where nobody stands behind the slot: it was put back from an older copy. */
async function openedBy(
  record: VaultRecord,
  { id, kind }: Slot,
  master: Uint8Array<ArrayBuffer>,
): Promise<OpenVault | null> {
  const cipher = await sealedCipher(master);
  const people = await peopleOf(record, { cipher });
  const person = people.find((each) => each.id === id && each.kind === kind);
  return person === undefined ? null : { cipher, by: person.by, kind, master };
}

interface NewSlot {
  readonly kind: Slot['kind'];
  readonly by: Author;
  readonly secret: string;
  readonly cost: StretchCost;
}

/** A person has one PIN; of the unit's passcode and of the recovery code there is one each. */
async function withSlot(
  record: VaultRecord,
  vault: OpenVault,
  made: NewSlot,
): Promise<VaultRecord> {
  const { initials, role } = made.by;
  const before = await peopleOf(record, vault);
  const people = before.filter(
    ({ kind, by }) =>
      kind !== made.kind || (kind === 'pin' && !sameInitials(by.initials, initials)),
  );
  const tag = made.kind === 'pin' ? await tagOf(record.salt, initials) : '';
  const slot = await slotOf(vault.master, tag, made);
  const ids = new Set(people.map(({ id }) => id));
  return {
    ...record,
    slots: [...record.slots.filter(({ id }) => ids.has(id)), slot],
    people: await sealedPeople(vault, [
      ...people,
      { id: slot.id, kind: made.kind, by: { initials, role } },
    ]),
  };
}

async function slotOf(
  master: Uint8Array<ArrayBuffer>,
  tag: string,
  { kind, secret, cost }: NewSlot,
): Promise<Slot> {
  if (secret.length < shortestPin) {
    throw new RangeError(`pin_short: expected ${shortestPin} characters or more`);
  }
  const id = crypto.randomUUID();
  const salt = crypto.getRandomValues(new Uint8Array(16));
  const nonce = crypto.getRandomValues(new Uint8Array(12));
  const key = await stretch(secretText(kind, secret), salt, cost);
  const algorithm = { name: 'AES-GCM', iv: nonce, additionalData: label({ id, kind, tag }) };
  const wrapped = new Uint8Array(await crypto.subtle.encrypt(algorithm, key, master));
  return {
    id,
    kind,
    tag,
    salt: toBase64(salt),
    cost,
    nonce: toBase64(nonce),
    wrapped: toBase64(wrapped),
  };
}

async function unwrapped(slot: Slot, pin: string): Promise<Uint8Array<ArrayBuffer> | null> {
  const key = await stretch(secretText(slot.kind, pin), fromBase64(slot.salt), slot.cost);
  const algorithm = { name: 'AES-GCM', iv: fromBase64(slot.nonce), additionalData: label(slot) };
  try {
    return new Uint8Array(await crypto.subtle.decrypt(algorithm, key, fromBase64(slot.wrapped)));
  } catch {
    return null; // a wrong PIN, or a slot that was changed: AES-GCM tells neither
  }
}

/** Bound to the wrapping, so that nobody becomes another by editing the stored slots. */
function label({ id, kind, tag }: Pick<Slot, 'id' | 'kind' | 'tag'>): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(JSON.stringify([id, kind, tag]));
}

async function peopleOf(
  record: VaultRecord,
  { cipher }: Pick<OpenVault, 'cipher'>,
): Promise<People> {
  return v.parse(peopleSchema, await openJson(cipher, fromBase64(record.people)));
}

async function sealedPeople({ cipher }: OpenVault, people: People): Promise<string> {
  return toBase64(await sealJson(cipher, people));
}

/** Initials are few, so this hides them from a glance and not from somebody who tries them all. */
async function tagOf(salt: string, who: string): Promise<string> {
  const text = new TextEncoder().encode(`${salt} ${who.toLowerCase()}`);
  const hash = await crypto.subtle.digest('SHA-256', text);
  return toBase64(new Uint8Array(hash).subarray(0, 16));
}

function secretText(kind: Slot['kind'], typed: string): string {
  return kind === 'recovery' ? readRecoveryCode(typed) : typed;
}

function sameInitials(one: string, other: string): boolean {
  return one.toLowerCase() === other.toLowerCase();
}
