import { Blob as NodeBlob } from 'node:buffer';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { digest } from '../../tests/support/ledgerStory.ts';
import { foldEntry } from '../charting/fold.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { fileLines } from '../storage/fileLines.ts';
import { MemoryLedger } from '../storage/memoryLedger.ts';
import { restoreBackup } from '../storage/restore.ts';
import { runningSha256 } from '../storage/sha256.ts';
import type { WalkRecord } from './keptWalk.ts';
import { defaultUnit } from './defaultUnit.ts';
import { keptUnit, readUnit } from './readUnit.ts';
import { machineVersion, WalkSession } from './WalkSession.svelte.ts';

/** Files as an earlier version wrote them. They are never written anew, only added to. */
const old = (name: string) => readFileSync(`tests/fixtures/${name}`, 'utf8');

/** A desk that says nothing aloud and keeps nothing. */
const ports = {
  ear: { name: 'typed', open: () => undefined, expect: () => undefined, close: () => undefined },
  voice: { name: 'captions', say: () => Promise.resolve() },
  judge: () => {
    throw new Error('nothing is heard');
  },
  now: () => {
    throw new Error('no button is pressed');
  },
  save: () => new Promise<never>(() => undefined),
  raise: () => Promise.resolve(),
  keeper: { put: () => Promise.resolve(), clear: () => Promise.resolve() },
  stayAwake: () => () => undefined,
} as const;

function sessionOf(name: string): WalkSession {
  const record = JSON.parse(old(name)) as WalkRecord;
  return new WalkSession(ports, { record });
}

describe('When a device still has what an earlier version wrote', () => {
  test('settings of form 1, from before initials by voice, are the unit as it was', () => {
    const text = old('unit-1.json');
    const read = readUnit(text);
    expect(read).toMatchObject({ ok: true, unit: { name: 'Harbor unit', voiceInitials: false } });
    const kept = keptUnit(JSON.parse(text));
    expect(kept.error).toBeNull();
    expect(kept.unit.beds).toEqual(defaultUnit.beds);
  });

  test('a record of version 1 is restored whole, confirmed, open and all', async () => {
    const ledger = new MemoryLedger(() => strictRules);
    const lines = () => fileLines(new NodeBlob([old('record-1.jsonl')]) as unknown as Blob);
    const restored = await restoreBackup(ledger, lines, { digest, newHash: runningSha256 }, 10);
    expect(restored).toMatchObject({ ok: true });
    const groups = await ledger.groups({ kind: 'entry' });
    const entries = groups.ok ? groups.value.map((each) => foldEntry(each, strictRules).entry) : [];
    expect(entries.map((entry) => entry?.status).sort()).toEqual(['final', 'preliminary']);
  });

  test('a walk of earlier machines goes on from the step and the number it had reached', () => {
    const session = sessionOf('walk-machine-1.json');
    expect(session.context.index).toBe(2);
    expect(session.context.settled?.amount).toBe(400);
    expect(session.context.readingOpen).toBe(false);
    session.close();
  });

  test('a walk of these machines goes on in the very state it was in', () => {
    const record = JSON.parse(old(`walk-machine-${machineVersion}.json`)) as WalkRecord;
    const { value } = record.snapshot as unknown as { value: string };
    const session = sessionOf(`walk-machine-${machineVersion}.json`);
    expect(session.view.current.value).toBe(value);
    expect(session.context.settled?.amount).toBe(400);
    session.close();
  });
});
