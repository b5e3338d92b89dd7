import { hex } from '../../charting/uuid.ts';
import type { Cipher } from '../cipher.ts';

/** Bytes of a fresh nonce before each sealed text. @see NIST SP 800-38D, section 8.2.2 */
const nonceBytes = 12;
export const masterBytes = 32;

/**
 * AES-256-GCM over everything that is stored, and HMAC-SHA-256 for what must be found by name. Both
 * keys come from one master by HKDF and never leave the browser's own key store.
 *
 * @param master - {@link masterBytes} random bytes; not kept
 * @see NIST SP 800-38D; RFC 5869
 */
export async function sealedCipher(master: Uint8Array<ArrayBuffer>): Promise<Cipher> {
  const root = await crypto.subtle.importKey('raw', master, 'HKDF', false, ['deriveKey']);
  const [sealing, tagging] = await Promise.all([
    crypto.subtle.deriveKey(purpose('seal'), root, { name: 'AES-GCM', length: 256 }, false, [
      'encrypt',
      'decrypt',
    ]),
    crypto.subtle.deriveKey(
      purpose('tag'),
      root,
      { name: 'HMAC', hash: 'SHA-256', length: 256 },
      false,
      ['sign'],
    ),
  ]);
  return {
    async seal(bytes) {
      const iv = crypto.getRandomValues(new Uint8Array(nonceBytes));
      const sealed = await crypto.subtle.encrypt({ name: 'AES-GCM', iv }, sealing, bytes);
      const out = new Uint8Array(nonceBytes + sealed.byteLength);
      out.set(iv);
      out.set(new Uint8Array(sealed), nonceBytes);
      return out;
    },
    async open(bytes) {
      const iv = bytes.subarray(0, nonceBytes);
      try {
        const rest = bytes.subarray(nonceBytes);
        return new Uint8Array(await crypto.subtle.decrypt({ name: 'AES-GCM', iv }, sealing, rest));
      } catch {
        throw new Error('seal_broken: not sealed with this key, or changed since');
      }
    },
    async tag(text) {
      const data = new TextEncoder().encode(text);
      return hex(new Uint8Array(await crypto.subtle.sign('HMAC', tagging, data)));
    },
  };
}

function purpose(name: string): HkdfParams {
  const info = new TextEncoder().encode(`ledger ${name}`);
  return { name: 'HKDF', hash: 'SHA-256', salt: new Uint8Array(), info };
}
