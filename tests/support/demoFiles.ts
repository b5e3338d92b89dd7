import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { sheet } from '../../src/words/en-US/sheet.ts';

export const demoFiles = {
  sheet: 'sheet.pdf',
  chart: 'chart.svg',
  bundle: 'bundle.json',
  table: 'entries.csv',
} as const;

/** Write the sheet, the chart and the files of a bed's day, from the sheet as it stands on the screen. */
export async function writeDemoFiles(page: Page, folder: string, bed: string): Promise<void> {
  await page.evaluate(() => {
    location.hash = '#/sheet';
  });
  await page.locator('main.sheet .controls select').first().selectOption(bed);
  await page.locator('article.paper').getByText(bed, { exact: true }).first().waitFor();
  await page.locator('article.paper svg[role=img]').waitFor();
  const files = { bundle: sheet.files.fhir, table: sheet.files.csv } as const;
  for (const [file, name] of Object.entries(files)) {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name, exact: true }).click(),
    ]);
    await download.saveAs(join(folder, demoFiles[file as keyof typeof files]));
  }
  const chart = await page.locator('article.paper svg[role=img]').evaluate((svg) => {
    const copy = svg.cloneNode(true) as SVGElement;
    copy.setAttribute('color', '#16211e');
    copy.setAttribute('font-family', 'sans-serif');
    copy.removeAttribute('class');
    return new XMLSerializer().serializeToString(copy);
  });
  await writeFile(join(folder, demoFiles.chart), `${chart}\n`);
  await page.pdf({ path: join(folder, demoFiles.sheet), format: 'Letter' });
}
