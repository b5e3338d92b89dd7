import type { Expansion } from './grammar.ts';

/**
 * A part that may come again and again up to a depth. Written out, an engine makes a copy of the part for
 * each depth and searches them all; as a loop it has one. The reader still counts.
 */
const rowOfTheSame = /^(.+) (?:\[ \1 \]|\( \1 \)\*)$/;

/**
 * Write an expansion as JSGF for an ear: no tags, and nothing that can never be spoken.
 *
 * @param rename - the name that a rule bears in the written grammar
 * @returns the text, or null where nothing is left to say
 */
export function printExpansion(
  body: Expansion,
  rename: (rule: string) => string | null,
): string | null {
  switch (body.type) {
    case 'word':
      return body.word;
    case 'tag':
      return '';
    case 'rule': {
      const name = rename(body.name);
      return name === null ? null : `<${name}>`;
    }
    case 'sequence': {
      const parts = body.parts.map((part) => printExpansion(part, rename));
      return parts.includes(null) ? null : parts.filter(Boolean).join(' ');
    }
    case 'choice': {
      const weighted = body.options.some(({ weight }) => weight !== 1 && weight !== 0);
      const options = body.options.flatMap(({ weight, body: option }) => {
        const text = weight === 0 ? null : printExpansion(option, rename);
        return text ? [weighted ? `/${weight}/ ${text}` : text] : [];
      });
      if (options.length === 0) return null;
      return options.length === 1 && !weighted ? options[0]! : `( ${options.join(' | ')} )`;
    }
    case 'optional': {
      const text = printExpansion(body.body, rename);
      if (!text) return '';
      const [, row] = rowOfTheSame.exec(text) ?? [];
      return row === undefined ? `[ ${text} ]` : `( ${row} )*`;
    }
    case 'repeat': {
      const text = printExpansion(body.body, rename);
      if (text) return `( ${text} )${body.least === 0 ? '*' : '+'}`;
      return body.least === 0 ? '' : null;
    }
  }
}
