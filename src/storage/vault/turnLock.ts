import type { Result } from '../ledger.ts';
import { copyRecord, type Watched, type WholeRecord } from './copyRecord.ts';
import type { LockShelf } from './lockShelf.ts';

interface Turning extends Watched {
  readonly shelf: LockShelf;
  readonly plain: WholeRecord;
  readonly sealed: WholeRecord;
}

/** Seal a plain record: first all of it stands sealed and was compared, then the plain one goes. */
export async function turnOn(
  { shelf, plain, sealed, ...watched }: Turning,
  lock: unknown,
): Promise<Result<void>> {
  const copied = await copyRecord(plain, sealed, watched);
  return copied.ok ? shelf.moveOut(lock, copied.value) : copied;
}

/**
 * Open a record for good: first all of it stands in the clear and was compared, then the lock goes. Where
 * that is stopped or fails, what stands in the clear by then is cleared away at once.
 */
export async function turnOff({
  shelf,
  plain,
  sealed,
  ...watched
}: Turning): Promise<Result<void>> {
  const room = await shelf.makeRoom();
  if (!room.ok) return room;
  const copied = await copyRecord(sealed, plain, watched);
  const done = copied.ok ? await shelf.moveIn() : copied;
  if (!done.ok) await shelf.tidy();
  return done;
}
