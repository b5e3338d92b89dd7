import { fliteAddress } from './fliteProgram.ts';

/**
 * Load flite's program with its progress told, for whoever waits for it on the screen.
 *
 * @param onprogress - bytes so far, of `fliteBytes`
 * @throws when it can not be fetched, or with the signal's reason
 */
export async function loadFlite(
  onprogress: (bytes: number) => void,
  signal: AbortSignal,
): Promise<WebAssembly.Module> {
  const response = await fetch(fliteAddress(), { signal });
  if (!response.ok || response.body === null) {
    throw new Error(`voice_missing: ${response.status} at ${response.url}`);
  }
  let bytes = 0;
  const counted = response.body.pipeThrough(
    new TransformStream<Uint8Array<ArrayBuffer>, Uint8Array<ArrayBuffer>>({
      transform(part, controller) {
        bytes += part.length;
        onprogress(bytes);
        controller.enqueue(part);
      },
    }),
  );
  const whole = await new Response(counted).arrayBuffer();
  signal.throwIfAborted();
  return WebAssembly.compile(whole);
}
