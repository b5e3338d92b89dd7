import { promisifyRequest } from 'idb-keyval';
import type { Result } from './ledger.ts';
import { markKey, openDatabase, runTo, type StoreName } from './openDatabase.ts';
import { watchChanges } from './spare/rowChanges.ts';
import type { Spare } from './spare/Spare.ts';
import { countTurn, turnsOf, type Written } from './spare/turns.ts';
import { faultOf, StorageFaultError } from './storageFault.ts';

/**
 * One IndexedDB database: opened when first used, opened again when it was closed under us.
 *
 * Every transaction that writes asks for strict durability, unless told otherwise: it is done when
 * the disk has it.
 */
export class Database {
  readonly #factory: IDBFactory | undefined;
  readonly #name: string;
  readonly #newMark: () => string;
  readonly #durability: IDBTransactionDurability;
  readonly #spare: Spare | null;
  #opening: Promise<IDBDatabase> | null = null;
  /** Made with the database; another one means that the old record is gone. */
  #mark: string | null = null;

  /**
   * @param factory - undefined where the browser has none
   * @param newMark - a fresh random text, for a database that is made now
   * @param durability - `strict` for a record; less only for one that can be made again
   * @param spare - its second copy, or null
   */
  constructor(
    factory: IDBFactory | undefined,
    name: string,
    newMark: () => string,
    durability: IDBTransactionDurability = 'strict',
    spare: Spare | null = null,
  ) {
    this.#factory = factory;
    this.#name = name;
    this.#newMark = newMark;
    this.#durability = durability;
    this.#spare = spare;
  }

  /**
   * Run one transaction. `run` makes its requests at once; nothing but them may be awaited.
   *
   * @param waits - false for what need not be in the spare as well before the next can come
   */
  async use<T>(
    stores: readonly StoreName[],
    mode: IDBTransactionMode,
    run: (transaction: IDBTransaction) => Promise<T>,
    waits = true,
  ): Promise<Result<T>> {
    try {
      if (mode === 'readwrite' && this.#spare !== null) {
        return { ok: true, value: await this.#writeTwice(this.#spare, stores, run, waits) };
      }
      return { ok: true, value: await runTo(await this.#begin(stores, mode), run) };
    } catch (error) {
      return { ok: false, fault: faultOf(error) };
    }
  }

  /** Into the record, then into its spare. */
  async #writeTwice<T>(
    spare: Spare,
    stores: readonly StoreName[],
    run: (transaction: IDBTransaction) => Promise<T>,
    waits: boolean,
  ): Promise<T> {
    const all = [...new Set([...stores, 'state' as const])];
    const transaction = await this.#begin(all, 'readwrite');
    const written: { last?: Written } = {};
    const value = await runTo(transaction, async () => {
      const state = transaction.objectStore('state');
      const before = turnsOf(state);
      const changes = watchChanges(transaction, all);
      const ran = await run(transaction);
      written.last = await countTurn(state, before, changes);
      return ran;
    });
    const followed = written.last && spare.follow(written.last);
    if (waits) await followed;
    return value;
  }

  /** Go on with the record that is there now, though the old one is gone. */
  acceptLoss(): void {
    this.#mark = null;
  }

  async close(): Promise<void> {
    const opening = this.#opening;
    this.#opening = null;
    await this.#spare?.settled();
    await opening?.then(
      (db) => db.close(),
      () => undefined,
    );
    this.#spare?.close();
  }

  async #begin(stores: readonly StoreName[], mode: IDBTransactionMode): Promise<IDBTransaction> {
    for (let again = true; ; again = false) {
      const opening = (this.#opening ??= this.#open());
      try {
        const db = await opening;
        return db.transaction([...stores], mode, { durability: this.#durability });
      } catch (error) {
        if (this.#opening === opening) this.#opening = null;
        // A connection that was closed under us throws InvalidStateError once; then we have a new one.
        if (!again || faultOf(error) !== 'storage_closed') throw error;
      }
    }
  }

  #open(): Promise<IDBDatabase> {
    const factory = this.#factory;
    if (factory === undefined) return Promise.reject(new StorageFaultError('storage_refused'));
    return openDatabase(factory, this.#name, this.#newMark).then(async (db) => {
      const forget = (): void => {
        this.#opening = null;
      };
      // A newer tab wants to change the stores, or someone deletes them: do not stand in the way.
      db.onversionchange = () => {
        forget();
        db.close();
      };
      db.onclose = forget;
      await this.#spare?.meet(db);
      const mark = await promisifyRequest<unknown>(
        db.transaction('state').objectStore('state').get(markKey),
      );
      if (this.#mark !== null && this.#mark !== mark) {
        db.close();
        throw new StorageFaultError('storage_vanished');
      }
      this.#mark = typeof mark === 'string' ? mark : null;
      return db;
    });
  }
}
