import { isSorted, sortedBack } from './columns.ts';
import type { EarFiles } from './engine.ts';

/** Bytes of all files of the ear, unpacked: what the share that has come is reckoned by. */
export const earBytes = 8_090_000;

/** How often at most the share is told. */
const tellings = 20;

/**
 * Fetch the files of the ear, each once, and sort back what was sorted. The engine fetches for itself,
 * and anew for each of its three searches: until it has done so it is given the copies that are here.
 *
 * @param tell - the share that has come, 0 to 1
 * @returns what gives the copies up again
 * @throws {TypeError} as `fetch` does; what was refused is left to the engine, which names it
 */
export async function fetchOnce(
  files: EarFiles,
  tell: (share: number) => void,
): Promise<() => void> {
  const shelf = new Map<string, Uint8Array<ArrayBuffer>>();
  const real = globalThis.fetch;
  let come = 0;
  let told = 0;
  await Promise.all(
    Object.values(files).map(async (address: string) => {
      const response = await real(address);
      if (!response.ok || response.body === null) return;
      const pieces: Uint8Array<ArrayBuffer>[] = [];
      for (let reader = response.body.getReader(); ;) {
        const { value } = await reader.read();
        if (value === undefined) break;
        pieces.push(value);
        come += value.length;
        // Each is a message to the page, which has more to do while it opens.
        if (come - told < earBytes / tellings) continue;
        told = come;
        tell(Math.min(1, come / earBytes));
      }
      const file = joined(pieces);
      shelf.set(address, isSorted(file) ? sortedBack(file) : file);
    }),
  );
  globalThis.fetch = (address, options) => {
    const known = typeof address === 'string' ? shelf.get(address) : undefined;
    return known === undefined ? real(address, options) : Promise.resolve(new Response(known));
  };
  return () => {
    globalThis.fetch = real;
  };
}

/** By hand: a blob would go to the browser's own process and back. */
function joined(pieces: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
