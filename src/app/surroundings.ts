import type { SurroundingsEvent } from '../conversation/earMachine.ts';

/** What of the page and the device tells that an ear may be mended. Absent where the browser has none. */
export interface Surroundings {
  readonly page?: Pick<Document, 'visibilityState' | 'addEventListener'>;
  readonly devices?: Pick<EventTarget, 'addEventListener'>;
  /** Whether the microphone is allowed. Rejects where the browser does not answer that. */
  readonly permission?: () => Promise<Pick<PermissionStatus, 'state' | 'addEventListener'>>;
}

function ofBrowser(): Surroundings {
  if (!('document' in globalThis)) return {};
  // Over plain http, and in old browsers, these are absent whatever the types say.
  const { mediaDevices, permissions } = navigator as Partial<Navigator>;
  return {
    page: document,
    ...(mediaDevices && { devices: mediaDevices }),
    ...(permissions && {
      permission: () => permissions.query({ name: 'microphone' }),
    }),
  };
}

/**
 * Watch for what may mend the ear without a hand on the screen: the page is shown again, a device is
 * plugged in, the microphone is allowed.
 *
 * @returns ends the watch
 */
export function watchSurroundings(
  tell: (event: SurroundingsEvent) => void,
  { page, devices, permission }: Surroundings = ofBrowser(),
): () => void {
  const ended = new AbortController();
  const { signal } = ended;
  page?.addEventListener(
    'visibilitychange',
    () => {
      if (page.visibilityState === 'visible') tell({ type: 'page.shown' });
    },
    { signal },
  );
  const offered = (): void => {
    tell({ type: 'microphone.offered' });
  };
  devices?.addEventListener('devicechange', offered, { signal });
  void permission?.().then(
    (status) => {
      const changed = (): void => {
        if (status.state === 'granted') offered();
      };
      if (!signal.aborted) status.addEventListener('change', changed, { signal });
    },
    () => undefined, // a browser that does not answer is asked by the button on the screen
  );
  return () => {
    ended.abort();
  };
}
