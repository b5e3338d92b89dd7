import { describe, expect, test } from 'vitest';
import type { Result } from '../storage/ledger.ts';
import { KeptWalk, storedOf, walkRecordOf, type WalkRecord } from './keptWalk.ts';
import { StoredWalk } from './storedWalk.ts';

const record = (machine: number) => ({ v: 1, machine, snapshot: {} }) as unknown as WalkRecord;

/** A disk on which every write waits until it is let go. */
function slowDisk() {
  const disk: number[] = [];
  const writes: ((result: Result<void>) => void)[] = [];
  const write = (then: () => void) =>
    new Promise<Result<void>>((done) => {
      writes.push((result) => {
        if (result.ok) then();
        done(result);
      });
    });
  const walk = new StoredWalk({
    put: (_, value) => write(() => disk.push((value as WalkRecord).machine)),
    drop: () => write(() => disk.push(0)),
  });
  return { disk, writes, walk };
}

const ok = { ok: true, value: undefined } as const;

describe('When a walk goes to another tab', () => {
  test('the state that still waited is on the disk before', async () => {
    const { disk, writes, walk } = slowDisk();
    const kept = new KeptWalk(walk, () => undefined, 1);
    const { snapshot, context } = record(1);
    kept.keep(snapshot, context);
    kept.clear();
    const settled = walk.settled();
    writes[0]?.(ok);
    await new Promise((turn) => setTimeout(turn, 0));
    writes[1]?.(ok);
    await settled;
    expect(disk).toEqual([1, 0]);
  });

  test('nothing of it comes after, and what was refused is not tried again', async () => {
    const { disk, writes, walk } = slowDisk();
    const late = walk.put(record(1));
    walk.stop();
    writes[0]?.({ ok: false, fault: 'not_writer' });
    await expect(late).resolves.toBeUndefined();
    await walk.put(record(2));
    await walk.clear();
    expect([disk, writes.length]).toEqual([[], 1]);
  });

  test('before that, a refusal is told', async () => {
    const { writes, walk } = slowDisk();
    const put = walk.put(record(1));
    writes[0]?.({ ok: false, fault: 'storage_full' });
    await expect(put).rejects.toThrow('storage_full');
  });
});

describe('When a walk is kept', () => {
  const context = { index: 4 } as unknown as WalkRecord['context'];
  const kept = { v: 1, machine: 3, snapshot: { context }, context } as unknown as WalkRecord;

  test('its context is on the disk once, and is found again', () => {
    expect(storedOf(kept)).not.toHaveProperty('context');
    expect(walkRecordOf(storedOf(kept))).toEqual(kept);
  });

  test('one that has it apart is read as well, and what is no walk is not', () => {
    const apart = { ...kept, snapshot: {} };
    expect(walkRecordOf(storedOf(apart as WalkRecord))).toEqual(apart);
    expect(walkRecordOf({ v: 1, machine: 3, snapshot: {} })).toBeNull();
    expect(walkRecordOf('walk')).toBeNull();
  });
});

test('What was refused is tried at once before a walk is handed over', async () => {
  let refuses = true;
  const disk: number[] = [];
  const keeper = {
    put: ({ machine }: WalkRecord) => {
      if (refuses) return Promise.reject(new Error('storage_full'));
      disk.push(machine);
      return Promise.resolve();
    },
    clear: () => Promise.resolve(),
  };
  const told: string[] = [];
  const walk = new KeptWalk(keeper, (fact) => told.push(fact), 3);
  walk.keep({ status: 'active' } as never, {} as never);
  await walk.written();
  expect(disk).toEqual([]);
  refuses = false;
  await walk.written();
  expect(disk).toEqual([3]);
  expect(told).toEqual(['keep.failed', 'keep.mended']);
});
