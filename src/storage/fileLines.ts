/** A line is at most this long; a longer one is cut off and can be no line of ours. Characters. */
export const longestLine = 1_000_000;

/**
 * The lines of a file, without their ends, a part in memory at a time.
 *
 * Bytes that are no UTF-8 become replacement characters, which no checksum forgives.
 */
export async function* fileLines(file: Blob): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  let rest = '';
  for await (const bytes of chunksOf(file)) {
    const lines = (rest + decoder.decode(bytes, { stream: true })).split('\n');
    rest = lines.pop() ?? '';
    yield* lines;
    if (rest.length > longestLine) {
      yield rest.slice(0, longestLine);
      return;
    }
  }
  rest += decoder.decode();
  if (rest !== '') yield rest;
}

/** Not every browser can iterate a stream, so it is read by hand. */
async function* chunksOf(file: Blob): AsyncGenerator<Uint8Array> {
  const reader = file.stream().getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value;
    }
  } finally {
    await reader.cancel();
  }
}
