/** Longest that is waited for a page to have nothing to do, ms. */
const patience = 3_000;
/** What a browser that can not tell is given to settle, ms. */
const moment = 300;

/** Run something once that the page will want, but nobody waits for. */
export function whenIdle(run: () => unknown): void {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(() => run(), { timeout: patience });
  else setTimeout(run, moment);
}
