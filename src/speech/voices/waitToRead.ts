/** Time to read a caption where no voice speaks: 300 ms a word and one second. */
const readingTime = (text: string): number => 1_000 + text.split(' ').length * 300;

/** Resolves when a text had time to be read, or at the signal. */
export function waitToRead(text: string, signal: AbortSignal): Promise<void> {
  return new Promise((done) => {
    const timer = setTimeout(done, readingTime(text));
    signal.addEventListener('abort', () => {
      clearTimeout(timer);
      done();
    });
  });
}
