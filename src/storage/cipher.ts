/** What is done to every payload before it is stored. */
export interface Cipher {
  seal(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>>;
  /** @throws {Error} `seal_broken` when it was not sealed with this key, or was changed */
  open(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>>;
  /** A stand-in for a text by which it can be looked up: the same for the same text. */
  tag(text: string): Promise<string>;
}

/** No sealing: for practice, the demo, and a unit that chose to run without a lock. */
export const plainCipher: Cipher = {
  seal: (bytes) => Promise.resolve(bytes),
  open: (bytes) => Promise.resolve(bytes),
  tag: (text) => Promise.resolve(text),
};

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** A value as sealed JSON bytes. */
export function sealJson(cipher: Cipher, value: unknown): Promise<Uint8Array<ArrayBuffer>> {
  return cipher.seal(encoder.encode(JSON.stringify(value)));
}

/** The value of sealed JSON bytes; its shape is for the caller to check. */
export async function openJson(cipher: Cipher, bytes: Uint8Array<ArrayBuffer>): Promise<unknown> {
  return JSON.parse(decoder.decode(await cipher.open(bytes)));
}
