import { createSHA256 } from 'hash-wasm';
import { hex } from '../charting/uuid.ts';
import type { Digest } from '../charting/chain.ts';

/** SHA-256 of the browser. It needs a secure context, as the app does anyway. */
export const webDigest: Digest = async (bytes) =>
  hex(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)));

/** A hash that is fed in parts, for what does not fit in memory. */
export interface RunningHash {
  add(text: string): void;
  /** As hex; nothing is added after it. */
  end(): string;
}

export async function runningSha256(): Promise<RunningHash> {
  const hash = await createSHA256();
  hash.init();
  return { add: (text) => void hash.update(text), end: () => hash.digest() };
}
