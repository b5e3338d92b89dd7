import { mkdir } from 'node:fs/promises';
import { Temporal } from 'temporal-polyfill';
import type { Entry } from '../../src/charting/entry.ts';
import { foldEntry } from '../../src/charting/fold.ts';
import { strictRules } from '../../src/charting/reviewRules.ts';
import { wingOf, type Wing } from '../../src/charting/sheet.ts';
import { dayOf, shiftOf, within, type ShiftSpan } from '../../src/charting/shifts.ts';
import { wing as demoWing } from '../../demo/wing.ts';
import { openBrowser } from './browser.ts';
import { writeDemoFiles } from './demoFiles.ts';
import { enterDemo, hearFirstMinute, type HeardLine } from './demoPage.ts';
import { recordOnDisk } from './recordOnDisk.ts';
import { builtApp, serve } from './server.ts';

/** Its clocks change, so the device and the demo wing have one zone. */
const zone = 'America/New_York';
const bed = 'Bed 12';

/** What one run of the demo left. */
export interface DemoRun {
  readonly lines: readonly HeardLine[];
  /** Every entry of the demo's record. */
  readonly entries: readonly Entry[];
  /** Those of the bed and day that the files hold, by time of reading. */
  readonly filed: readonly Entry[];
  /** Entries of the unit's own record: none. */
  readonly own: number;
  readonly shift: ShiftSpan;
  readonly wing: Wing;
  readonly errors: readonly string[];
  /** Addresses of other origins that were asked. */
  readonly left: readonly string[];
}

/**
 * Hear the demo's first walk in a real browser, by sound alone, and write what came of it into a folder.
 *
 * @param told - called with each line of the conversation as it comes
 */
export async function demoRun(
  folder: string,
  told: (line: HeardLine) => void = () => undefined,
): Promise<DemoRun> {
  await mkdir(folder, { recursive: true });
  const build = await builtApp();
  const server = await serve(build.folder).catch(async (error: unknown) => {
    await build.remove();
    throw error;
  });
  const browser = await openBrowser({
    context: { timezoneId: zone, acceptDownloads: true, viewport: { width: 1280, height: 900 } },
  });
  const { page } = browser;
  try {
    await enterDemo(page, server.url);
    const lines = await hearFirstMinute(page, told);
    const entries = entriesOf(await recordOnDisk(page, 'gloveside-demo'));
    const own = entriesOf(await recordOnDisk(page, 'gloveside')).length;
    const now = Date.now();
    const plan = { ...demoWing.plan, zone };
    const day = dayOf(Temporal, plan, now);
    const shift = shiftOf(Temporal, plan, now);
    const inShift = entries.filter((entry) => within(shift, timeOf(entry)));
    await writeDemoFiles(page, folder, bed);
    return {
      lines,
      entries,
      filed: entries.filter((entry) => entry.bed === bed && within(day, timeOf(entry))),
      own,
      shift,
      wing: wingOf(
        demoWing.beds.map(({ label }) => label),
        shift,
        inShift,
      ),
      errors: browser.errors,
      left: browser.leaving(server.url).map(({ url }) => url),
    };
  } finally {
    await browser.close();
    await server.close();
    await build.remove();
  }
}

const timeOf = (entry: Entry): number => (entry.readAt ?? entry.draft.at).ms;

function entriesOf(events: Awaited<ReturnType<typeof recordOnDisk>>): readonly Entry[] {
  const ids = new Set(events.flatMap((event) => ('entry' in event ? (event.entry ?? []) : [])));
  return [...ids]
    .flatMap((id) => {
      const own = events.filter((event) => 'entry' in event && event.entry === id);
      return foldEntry(own, strictRules).entry ?? [];
    })
    .sort((one, other) => timeOf(one) - timeOf(other));
}
