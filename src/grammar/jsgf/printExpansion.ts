import type { Expansion } from './grammar.ts';

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
      return text ? `[ ${text} ]` : '';
    }
    case 'repeat': {
      const text = printExpansion(body.body, rename);
      if (text) return `( ${text} )${body.least === 0 ? '*' : '+'}`;
      return body.least === 0 ? '' : null;
    }
  }
}
