import type { Plugin } from 'vite';
import { shell } from '../src/words/en-US/shell.ts';

const place = /%shell\.(\w+)%/g;

/**
 * Put the words of the first picture into the page, which shows it before any program has come.
 *
 * @throws {Error} `no_words` where the page names words that are not there
 */
export function withWords(html: string): string {
  return html.replace(place, (_, name: string) => {
    const words = (shell as Readonly<Record<string, unknown>>)[name];
    if (typeof words !== 'string') throw new Error(`no_words: shell has no "${name}"`);
    return words;
  });
}

export const openingPicture: Plugin = { name: 'opening-picture', transformIndexHtml: withWords };
