import { argon2id } from 'hash-wasm';

/** What a PIN costs to try. */
export interface StretchCost {
  /** KiB of memory. */
  readonly memory: number;
  /** Passes over it. */
  readonly passes: number;
}

/**
 * The least that is allowed: 19 MiB, 2 passes.
 *
 * @see OWASP Password Storage Cheat Sheet, Argon2id
 */
export const leastCost: StretchCost = { memory: 19 * 1_024, passes: 2 };

/** The most that a ward tablet is asked for: 64 MiB; beyond it browsers on phones give up. */
export const mostCost: StretchCost = { memory: 64 * 1_024, passes: 8 };

/** How long one try should take on the device where the unit is set up, ms. */
export const stretchTarget = 400;

/** A key for wrapping, made slowly from a PIN by Argon2id (RFC 9106), one lane. */
export async function stretch(
  secret: string,
  salt: Uint8Array,
  { memory, passes }: StretchCost,
): Promise<CryptoKey> {
  const key = await argon2id({
    password: secret.normalize('NFKC'),
    salt,
    parallelism: 1,
    iterations: passes,
    memorySize: memory,
    hashLength: 32,
    outputType: 'binary',
  });
  const bytes = Uint8Array.from(key);
  return crypto.subtle.importKey('raw', bytes, 'AES-GCM', false, ['encrypt', 'decrypt']);
}

/**
 * The dearest cost that stays within the target on this device; never less than the least.
 *
 * @param time - runs one try at a cost and says how long it took, ms
 */
export async function calibrated(
  time: (cost: StretchCost) => Promise<number>,
  target = stretchTarget,
): Promise<StretchCost> {
  let best = leastCost;
  for (const memory of [leastCost.memory, 32 * 1_024, mostCost.memory]) {
    const cost = { memory, passes: leastCost.passes };
    const took = await time(cost);
    if (took > target) return best;
    // Time grows with the passes, so the rest of the target is filled with them.
    const passes = Math.floor((leastCost.passes * target) / Math.max(took, 1));
    best = { memory, passes: Math.min(Math.max(passes, leastCost.passes), mostCost.passes) };
  }
  return best;
}
