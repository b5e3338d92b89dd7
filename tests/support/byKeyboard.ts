import type { Page } from 'playwright-core';

interface Focused {
  readonly name: string;
  /** Whether a ring is drawn about it, or about the label that it stands in. */
  readonly isSeen: boolean;
  readonly html: string;
}

/** A person with a keyboard and nothing else; each place the focus goes to is noted. */
export class Keyboard {
  readonly #page: Page;
  /** Places where nobody could see that the focus is there. */
  readonly unseen = new Set<string>();
  stops = 0;

  constructor(page: Page) {
    this.#page = page;
  }

  /** Tab until the focus is on what bears this name. */
  async to(name: string | RegExp, most = 80): Promise<void> {
    for (let turn = 0; turn < most; turn += 1) {
      const { name: here } = await this.#look();
      if (typeof name === 'string' ? here === name : name.test(here)) return;
      await this.#page.keyboard.press('Tab');
      await this.#page.evaluate(() => new Promise((done) => requestAnimationFrame(done)));
    }
    throw new Error(`never at ${String(name)}`);
  }

  async press(name: string | RegExp): Promise<void> {
    await this.to(name);
    await this.#page.keyboard.press('Enter');
  }

  /** Within a group of radios: by arrows, as browsers do it. */
  async choose(first: RegExp, name: string): Promise<void> {
    await this.to(first);
    await this.#page.keyboard.press(' ');
    for (let turn = 0; turn < 40; turn += 1) {
      if ((await this.#look()).name === name) return;
      await this.#page.keyboard.press('ArrowDown');
    }
    throw new Error(`no choice ${name}`);
  }

  async write(text: string): Promise<void> {
    await this.#page.keyboard.type(text);
    await this.#page.keyboard.press('Enter');
  }

  async #look(): Promise<Focused> {
    const focused = await this.#page.evaluate((): Focused | null => {
      const element = document.activeElement;
      if (!(element instanceof HTMLElement) || element === document.body) return null;
      const labels = element instanceof HTMLInputElement ? [...(element.labels ?? [])] : [];
      const named = element.getAttribute('aria-label') ?? labels[0]?.textContent;
      const ringed = [element, ...labels].some((each) => {
        const { outlineStyle, outlineWidth } = getComputedStyle(each);
        const { width } = each.getBoundingClientRect();
        return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2 && width > 4;
      });
      return {
        name: (named ?? element.textContent).replace(/\s+/g, ' ').trim(),
        isSeen: ringed,
        html: element.outerHTML.slice(0, 120),
      };
    });
    if (focused === null) return { name: '', isSeen: true, html: '' };
    this.stops += 1;
    if (!focused.isSeen) this.unseen.add(focused.html);
    return focused;
  }
}
