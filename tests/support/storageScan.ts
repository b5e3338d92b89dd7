import type { Page } from 'playwright-core';

/**
 * Where the page's storage shows something that can be read: database, store and the words, one line
 * each. Bytes are read as Latin-1, so that a text inside of them is found too.
 */
export function readableIn(page: Page, patterns: readonly RegExp[]): Promise<string[]> {
  const sources = patterns.map(({ source }) => source);
  return page.evaluate(async (texts) => {
    const done = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error ?? new Error('unread'));
      });
    const latin = new TextDecoder('latin1');
    const written = (value: unknown): string =>
      JSON.stringify([value], (_, part: unknown) =>
        part instanceof Uint8Array || part instanceof ArrayBuffer ? latin.decode(part) : part,
      ).replaceAll('\\"', '"');
    const found: string[] = [];
    const look = (where: string, value: unknown) => {
      for (const text of texts) {
        const hit = new RegExp(text).exec(written(value));
        if (hit !== null) found.push(`${where}: ${hit[0]}`);
      }
    };
    for (const { name } of await indexedDB.databases()) {
      const database = await done(indexedDB.open(name ?? ''));
      for (const store of database.objectStoreNames) {
        const rows = database.transaction(store).objectStore(store);
        look(`${String(name)}/${store}`, await done(rows.getAll()));
        look(`${String(name)}/${store} keys`, await done(rows.getAllKeys()));
      }
      database.close();
    }
    for (const [name, storage] of Object.entries({ localStorage, sessionStorage })) {
      look(name, Object.entries(storage));
    }
    return found;
  }, sources);
}
