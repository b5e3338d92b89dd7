import { days as wingDays } from '../../../demo/days.ts';
import type { Digest } from '../../charting/chain.ts';
import { uuid, uuidRandomBytes } from '../../charting/uuid.ts';
import type { TemporalApi } from '../../charting/temporal.ts';
import type { Moment } from '../../measure/moment.ts';
import type { Ledger } from '../../storage/ledger.ts';
import { Recorder } from '../../storage/recorder.ts';
import type { Unit } from '../unit.ts';
import { happeningsOf } from './happenings.ts';

export interface FillPorts {
  readonly ledger: Ledger;
  readonly digest: Digest;
  readonly temporal: TemporalApi;
}

/**
 * Write the days of the demo wing into an empty ledger, through recorders like any other: one on the
 * tablet at the beds, one on the desk. The same moment gives the same events, to the last id.
 *
 * @param now - ms since the Unix epoch; the days end there
 * @throws {Error} `demo_unwritten` when the ledger does not take them
 */
export async function fillWing(
  { ledger, digest, temporal }: FillPorts,
  unit: Unit,
  now: number,
): Promise<void> {
  const { zone } = unit.plan;
  const happenings = happeningsOf(wingDays, { temporal, zone, now, roster: unit.roster });
  const [start] = happenings;
  if (start === undefined) return;

  let made = 0;
  const random = (): Uint8Array => {
    made += 1;
    const bytes = new Uint8Array(uuidRandomBytes);
    new DataView(bytes.buffer).setUint32(6, made);
    return bytes;
  };
  const clock: { at: Moment } = { at: start.at };
  const recorderOf = () =>
    new Recorder({
      ledger,
      device: uuid(start.at.ms, random()),
      digest,
      now: () => clock.at,
      random,
      after: () => () => undefined,
    });
  const recorders = { tablet: recorderOf(), desk: recorderOf() };

  const named = new Map<string, string>();
  const heads = new Map<string, string>();
  const ids = {
    of: (name: string): string => {
      const id = named.get(name) ?? uuid(clock.at.ms, random());
      named.set(name, id);
      return id;
    },
    head: (key: string): string => {
      const head = heads.get(key);
      if (head === undefined)
        throw new Error(`demo_broken: ${key} is decided on before it is read`);
      return head;
    },
  };

  for (const { at, by, key, on, facts } of happenings) {
    clock.at = at;
    const recorded = await recorders[on].record(by, facts(ids));
    if (recorded.kept !== 'stored') {
      recorders[on].stop();
      throw new Error(`demo_unwritten: ${recorded.fault}`);
    }
    const stands = recorded.events.find(({ type }) => /^(entry|decision)\./.test(type));
    if (key !== null && stands !== undefined) heads.set(key, stands.id);
  }
}
