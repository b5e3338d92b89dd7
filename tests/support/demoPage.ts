import type { Page } from 'playwright-core';

export interface HeardLine {
  readonly who: 'aide' | 'assistant';
  readonly words: string;
}

/** Go into the demo wing by its button, and wait until it is filled. */
export async function enterDemo(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.getByRole('link', { name: 'Try the demo wing' }).click();
  await page.getByRole('button', { name: 'Hear one whole walk' }).waitFor({ timeout: 60_000 });
}

/**
 * Hear the first minute to its end.
 *
 * @param told - called with each line as it comes
 */
export async function hearFirstMinute(
  page: Page,
  told: (line: HeardLine) => Promise<void> | void = () => undefined,
): Promise<readonly HeardLine[]> {
  await page.getByRole('button', { name: 'Hear one whole walk' }).click();
  await page.locator('.tape').waitFor({ timeout: 90_000 });
  const lines: HeardLine[] = [];
  for (;;) {
    const shown = await page.locator('.tape li').evaluateAll((items) =>
      items.map((item) => ({
        place: (item as HTMLLIElement).value,
        who: item.classList.contains('aide') ? ('aide' as const) : ('assistant' as const),
        words: item.querySelector('.words')?.textContent ?? '',
      })),
    );
    for (const { place, who, words } of shown) {
      if (place <= lines.length) continue;
      lines.push({ who, words });
      await told({ who, words });
    }
    if (await page.getByRole('heading', { name: 'Now you' }).isVisible()) return lines;
    await page.waitForTimeout(80);
  }
}
