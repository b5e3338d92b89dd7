/** What the browser promised about keeping our storage when it runs out of room. */
export interface Persistence {
  /** `refused` is common and no fault: browsers grant it to installed or much used pages. */
  readonly promise: 'granted' | 'refused' | 'unknown';
  /** Bytes in use and allowed, or null where the browser does not tell. */
  readonly used: number | null;
  readonly quota: number | null;
}

type Manager = Partial<Pick<StorageManager, 'persist' | 'persisted' | 'estimate'>>;

/**
 * Ask the browser to keep our storage.
 *
 * @param manager - `navigator.storage`, undefined where the browser has none
 */
export async function askToPersist(manager: Manager | undefined): Promise<Persistence> {
  const granted = await orNull(async () =>
    (await manager?.persisted?.()) === true ? true : manager?.persist?.(),
  );
  const estimate = await orNull(async () => manager?.estimate?.());
  return {
    promise: granted === true ? 'granted' : granted === false ? 'refused' : 'unknown',
    used: estimate?.usage ?? null,
    quota: estimate?.quota ?? null,
  };
}

async function orNull<T>(ask: () => Promise<T | undefined>): Promise<T | null> {
  try {
    return (await ask()) ?? null;
  } catch {
    return null; // the browser would not say; the page tells that as "unknown"
  }
}
