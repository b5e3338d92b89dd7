import type { CDPSession, Page } from 'playwright-core';
import { BedsidePage } from '../../support/bedsidePage.ts';
import { openBrowser } from '../../support/browser.ts';
import type { CountedServer } from './countedServer.ts';
import type { Row } from './table.ts';
import { readBack, toEnd, toReading } from './typedWalk.ts';

interface Held {
  /** The page's script heap, bytes. */
  readonly heap: number;
  /** Page and workers, WebAssembly too, as the browser tells it; bytes. */
  readonly all: number;
}

interface MeasuringPerformance extends Performance {
  measureUserAgentSpecificMemory(): Promise<{ bytes: number }>;
}

async function held(page: Page, session: CDPSession): Promise<Held> {
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const all = await page.evaluate(async () => {
    const { bytes } = await (performance as MeasuringPerformance).measureUserAgentSpecificMemory();
    return bytes;
  });
  return { heap: usedSize, all };
}

/** Memory after one walk and after many, driven by typing in one page that is never reloaded. */
export async function manyWalks(server: CountedServer, walks: number): Promise<Row[]> {
  const browser = await openBrowser();
  try {
    const { page } = browser;
    const aide = await BedsidePage.open(browser, server.url, { voice: { msPerCharacter: 0.1 } });
    const session = await page.context().newCDPSession(page);
    const walk = async (): Promise<void> => {
      await toReading(aide);
      await readBack(aide, 'two hundred');
      await toEnd(aide);
    };
    await walk();
    const one = await held(page, session);
    for (let done = 1; done < walks; done += 1) await walk();
    const many = await held(page, session);
    const row = (name: string, part: keyof Held): Row[] => [
      { what: `${name} after 1 walk`, value: one[part] / 1e6, unit: 'MB' },
      {
        what: `${name} after ${walks} walks`,
        value: many[part] / 1e6,
        unit: 'MB',
        against: { value: one[part] / 1e6, name: 'after 1' },
      },
    ];
    return [...row('script heap', 'heap'), ...row('page and workers', 'all')];
  } finally {
    await browser.close();
  }
}
