/** What of a storage bucket is needed here; the types of browsers do not know buckets yet. */
interface Bucket {
  readonly indexedDB: IDBFactory;
}
interface Buckets {
  open(
    name: string,
    options: { readonly durability: 'strict'; readonly persisted: boolean },
  ): Promise<Bucket>;
}

const bucketName = 'record-copy';

/**
 * An IndexedDB with files of its own beside the first: that of a storage bucket. Null in a browser
 * without buckets; those known to lose their files have them.
 */
export function spareFactory(browser: object): (() => Promise<IDBFactory | null>) | null {
  if (!('storageBuckets' in browser)) return null;
  const buckets = browser.storageBuckets as Buckets;
  // Held for good: in Chromium a database falls silent once its bucket was collected as garbage.
  let opening: Promise<Bucket | null> | undefined;
  return async () => {
    opening ??= buckets
      .open(bucketName, { durability: 'strict', persisted: true })
      // A browser that refuses has the one copy, as one without buckets.
      .catch(() => null);
    return (await opening)?.indexedDB ?? null;
  };
}
