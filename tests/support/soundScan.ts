import type { Page } from 'playwright-core';

/**
 * Everything in the page's storage that could be sound, one line each; empty when there is none.
 *
 * All that the app stores is text: so a binary that is not JSON, an array of samples, a blob, or a
 * long run of letters without a space is named. Files of the build in the cache are its own.
 *
 * @param built - paths of the build
 */
export function soundInStorage(page: Page, built: readonly string[]): Promise<string[]> {
  return page.evaluate(async (paths) => {
    const found: string[] = [];
    const done = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error ?? new Error('unread'));
      });
    const text = (bytes: Uint8Array): boolean => {
      try {
        JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
        return true;
      } catch {
        return false;
      }
    };
    const look = (value: unknown, where: string): void => {
      if (typeof value === 'string') {
        if (/\S{2000}/.test(value)) found.push(`${where}: long text`);
      } else if (value instanceof Blob) {
        found.push(`${where}: blob`);
      } else if (value instanceof ArrayBuffer || value instanceof Uint8Array) {
        if (!text(new Uint8Array(value))) found.push(`${where}: binary`);
      } else if (ArrayBuffer.isView(value)) {
        found.push(`${where}: samples`);
      } else if (
        Array.isArray(value) &&
        value.filter((one) => typeof one === 'number').length > 500
      ) {
        found.push(`${where}: numbers`);
      } else if (typeof value === 'object' && value !== null) {
        for (const [key, one] of Object.entries(value)) look(one, `${where}.${key}`);
      }
    };

    for (const { name } of await indexedDB.databases()) {
      const database = await done(indexedDB.open(name ?? ''));
      for (const store of database.objectStoreNames) {
        const rows = await done(database.transaction(store).objectStore(store).getAll());
        rows.forEach((row: unknown, index) => look(row, `${String(name)}/${store}/${index}`));
      }
      database.close();
    }
    for (const [name, storage] of Object.entries({ localStorage, sessionStorage })) {
      for (const key of Object.keys(storage)) look(storage.getItem(key), `${name}/${key}`);
    }
    for (const name of await caches.keys()) {
      for (const { url } of await (await caches.open(name)).keys()) {
        const path = new URL(url).pathname.slice(1);
        if (!paths.includes(path)) found.push(`${name}: ${path}`);
      }
    }
    const folder = await navigator.storage.getDirectory();
    for await (const name of folder.keys()) found.push(`private files: ${name}`);
    return found;
  }, built);
}
