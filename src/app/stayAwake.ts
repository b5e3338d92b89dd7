/** One hold on the screen, as the browser gives it. */
type Sentinel = Pick<WakeLockSentinel, 'release' | 'addEventListener'>;

/** What the screen is kept on with. */
export interface ScreenPorts {
  readonly page: Pick<Document, 'visibilityState' | 'addEventListener'>;
  /** Rejects where the system refuses: a low battery, a page that is not shown. */
  readonly request: () => Promise<Sentinel>;
}

/** A hold that the system takes away while the page is shown is asked for again after this, ms. */
export const askAgainAfter = 30_000;

function ofBrowser(): ScreenPorts | null {
  if (!('document' in globalThis)) return null;
  const { wakeLock } = navigator as Partial<Navigator>;
  return wakeLock === undefined
    ? null
    : { page: document, request: () => wakeLock.request('screen') };
}

/**
 * Keep the screen on while gloved hands can not touch it: a locked screen takes the microphone away.
 *
 * The system drops the hold whenever the page is hidden, so it is asked for again each time the page
 * is shown, and after a while where it was refused or taken away in plain view.
 *
 * @returns lets the screen sleep again
 */
export function stayAwake(ports: ScreenPorts | null = ofBrowser()): () => void {
  if (ports === null) return () => undefined;
  const { page, request } = ports;
  const ended = new AbortController();
  const { signal } = ended;
  let held: Sentinel | null = null;
  let asking = false;
  let later: ReturnType<typeof setTimeout> | undefined;

  const askLater = (): void => {
    clearTimeout(later);
    if (!signal.aborted) later = setTimeout(ask, askAgainAfter);
  };
  const ask = (): void => {
    clearTimeout(later);
    if (signal.aborted || asking || held !== null || page.visibilityState !== 'visible') return;
    asking = true;
    request()
      .then((sentinel) => {
        // Let go while it was asked for: given back at once.
        if (signal.aborted) return sentinel.release();
        held = sentinel;
        const lost = (): void => {
          held = null;
          askLater();
        };
        sentinel.addEventListener('release', lost, { signal });
        return undefined;
      })
      .catch(askLater)
      .finally(() => {
        asking = false;
      });
  };

  page.addEventListener('visibilitychange', ask, { signal });
  ask();
  return () => {
    ended.abort();
    clearTimeout(later);
    void held?.release().catch(() => undefined);
    held = null;
  };
}
