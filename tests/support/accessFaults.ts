import axe from 'axe-core';
import type { Page } from 'playwright-core';

/** Success criteria of WCAG 2.2, levels A and AA, and of its forerunners. */
const criteria = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const themes = { light: 'light', night: 'dark' } as const;
const phone = { width: 390, height: 844 };

/** Each page of the browser brings the checker along; call before the first page is opened. */
export async function bringChecker(page: Page): Promise<void> {
  await page.addInitScript(axe.source);
}

/** What axe-core finds on the page as it stands, in both themes. */
export async function axeFaults(page: Page): Promise<string[]> {
  const faults: string[] = [];
  for (const [theme, colorScheme] of Object.entries(themes)) {
    await page.emulateMedia({ colorScheme });
    const found = await page.evaluate(async (values) => {
      const checker = (window as unknown as { axe: typeof axe }).axe;
      const { violations } = await checker.run(document, { runOnly: { type: 'tag', values } });
      return violations.flatMap(({ id, nodes }) =>
        nodes.map((node) => `${id}: ${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`),
      );
    }, criteria);
    faults.push(...found.map((fault) => `${theme}: ${fault}`));
  }
  await page.emulateMedia({ colorScheme: 'light' });
  return faults;
}

/** Targets smaller than 44 by 44 CSS px on a phone. A link in the midst of text is exempt. */
export async function smallTargets(page: Page): Promise<string[]> {
  await page.setViewportSize(phone);
  return page.evaluate(() => {
    const least = 43.5;
    const selector = 'button, a[href], input, select, textarea, summary, [role="button"]';
    return [...document.querySelectorAll<HTMLElement>(selector)].flatMap((element) => {
      const picked = element.matches('input[type="radio"], input[type="checkbox"]');
      const target = (picked ? element.closest('label') : null) ?? element;
      if (!target.checkVisibility({ visibilityProperty: true })) return [];
      const around = target.parentElement?.textContent.trim() ?? '';
      const isInText =
        target.matches('a') &&
        getComputedStyle(target).display === 'inline' &&
        around !== target.textContent.trim();
      const { width, height } = target.getBoundingClientRect();
      if (isInText || (width >= least && height >= least)) return [];
      const size = `${Math.round(width)} x ${Math.round(height)} px`;
      return [`${size}: ${target.outerHTML.replace(/\s+/g, ' ').slice(0, 140)}`];
    });
  });
}

/**
 * What reaches beyond the side of the page: at 320 CSS px, which is 1280 px at 400 %, and on a
 * tablet with text of twice the size. What scrolls within a box of its own is exempt.
 */
export async function sidewaysScroll(page: Page): Promise<string[]> {
  const faults: string[] = [];
  const sizes = [
    { name: '320 px', width: 320, text: '' },
    { name: '200 % text', width: 820, text: '200%' },
  ];
  for (const { name, width, text } of sizes) {
    await page.setViewportSize({ width, height: 640 });
    const wide = await page.evaluate((size) => {
      const { documentElement: root } = document;
      root.style.fontSize = size;
      const edge = root.clientWidth;
      const overall = root.scrollWidth;
      const scrolls = (element: Element): boolean => {
        const { parentElement: parent } = element;
        if (parent === null || parent === document.body) return false;
        return getComputedStyle(parent).overflowX !== 'visible' || scrolls(parent);
      };
      const out = [...document.body.querySelectorAll('*')]
        .filter((element) => element.getBoundingClientRect().right > edge + 1 && !scrolls(element))
        .map((element) => element.outerHTML.replace(/\s+/g, ' ').slice(0, 110));
      root.style.fontSize = '';
      return overall > edge ? [`${overall} px wide: ${out.slice(0, 3).join(' | ')}`] : [];
    }, text);
    faults.push(...wide.map((fault) => `${name}: ${fault}`));
  }
  await page.setViewportSize(phone);
  return faults;
}

/** What moves although the person asked for less motion. */
export async function movement(page: Page): Promise<string[]> {
  await page.emulateMedia({ reducedMotion: 'reduce' });
  const moving = await page.evaluate(() =>
    document.getAnimations().map((animation) => {
      const target = animation.effect instanceof KeyframeEffect ? animation.effect.target : null;
      return `moves: ${target?.outerHTML.slice(0, 110) ?? 'something'}`;
    }),
  );
  await page.emulateMedia({ reducedMotion: 'no-preference' });
  return moving;
}
