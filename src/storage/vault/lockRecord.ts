import * as v from 'valibot';
import { vaultSchema } from './vault.ts';

const lockSchema = v.strictObject({
  v: v.literal(1),
  /** Name of the database that holds the sealed record. */
  place: v.pipe(v.string(), v.minLength(1)),
  vault: vaultSchema,
});

/** The lock of a device: where the sealed record is, and who may open it. */
export type LockRecord = v.InferOutput<typeof lockSchema>;

/** What lay on the shelf, checked; null where it can not be used. */
export function lockOf(value: unknown): LockRecord | null {
  const parsed = v.safeParse(lockSchema, value);
  return parsed.success ? parsed.output : null;
}
