import type { Page } from 'playwright-core';
import type { LedgerEvent } from '../../src/charting/events.ts';

/** Every event of a record in this page's storage, as it stands on its disk, unsealed. */
export function recordOnDisk(page: Page, name: string): Promise<LedgerEvent[]> {
  return page.evaluate(async (database) => {
    const open = indexedDB.open(database);
    const opened = await new Promise<IDBDatabase>((resolve, reject) => {
      open.onsuccess = () => {
        resolve(open.result);
      };
      open.onerror = () => {
        reject(open.error ?? new Error('no database'));
      };
    });
    const all = opened.transaction('events').objectStore('events').getAll();
    const rows = await new Promise<{ body: Uint8Array<ArrayBuffer> }[]>((resolve, reject) => {
      all.onsuccess = () => {
        resolve(all.result as { body: Uint8Array<ArrayBuffer> }[]);
      };
      all.onerror = () => {
        reject(all.error ?? new Error('unread'));
      };
    });
    opened.close();
    const text = new TextDecoder();
    return rows.map(({ body }) => JSON.parse(text.decode(body)) as LedgerEvent);
  }, name);
}
