import type { Result } from '../ledger.ts';
import { copyRecord, type WholeRecord } from './copyRecord.ts';
import type { LockShelf } from './lockShelf.ts';

interface Turning {
  readonly shelf: LockShelf;
  readonly plain: WholeRecord;
  readonly sealed: WholeRecord;
  /** Called with the events done so far. */
  readonly told?: (done: number) => void;
  /** Events copied at a time. */
  readonly part?: number;
}

/** Seal a plain record: first all of it stands sealed and was compared, then the plain one goes. */
export async function turnOn(
  { shelf, plain, sealed, told, part }: Turning,
  lock: unknown,
): Promise<Result<void>> {
  const copied = await copyRecord(plain, sealed, told, part);
  return copied.ok ? shelf.moveOut(lock, copied.value) : copied;
}

/** Open a record for good: first all of it stands in the clear and was compared, then the lock goes. */
export async function turnOff({
  shelf,
  plain,
  sealed,
  told,
  part,
}: Turning): Promise<Result<void>> {
  const room = await shelf.makeRoom();
  if (!room.ok) return room;
  const copied = await copyRecord(sealed, plain, told, part);
  return copied.ok ? shelf.moveIn() : copied;
}
