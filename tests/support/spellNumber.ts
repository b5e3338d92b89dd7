import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

type RuleSets = Readonly<Record<string, readonly (readonly [string, string])[]>>;

const file = createRequire(import.meta.url).resolve('cldr-rbnf/rbnf/en.json');
const { rbnf } = JSON.parse(readFileSync(file, 'utf8')) as {
  rbnf: { rbnf: { SpelloutRules: RuleSets } };
};
const sets = rbnf.rbnf.SpelloutRules;

/**
 * Spell a whole number by CLDR's rule-based number format, English.
 *
 * @param style - `%spellout-cardinal`, `%spellout-cardinal-verbose` or `%spellout-numbering-year`
 * @see Unicode CLDR 48, common/rbnf/en.xml; UTS 35 part 3, section 6
 */
export function spellNumber(value: number, style: string): string {
  const rules = (sets[style] ?? [])
    .map(([base, body]) => {
      const [, from, radix] = /^(\d+)(?:\/(\d+))?$/.exec(base) ?? [];
      return { from: Number(from), radix: Number(radix ?? 10), body };
    })
    .filter(({ from }) => from <= value);
  const rule = rules[rules.length - 1];
  if (!rule) throw new Error(`no rule of ${style} for ${value}`);
  let divisor = rule.radix;
  while (divisor * rule.radix <= rule.from) divisor *= rule.radix;
  const rest = value % divisor;
  const inner = (name: string, number: number) => spellNumber(number, name || style);
  return rule.body
    .replace(/;$/, '')
    .replace(/\[([^\]]*)\]/g, (_, optional: string) => (rest === 0 ? '' : optional))
    .replace(/←([^←]*)←/g, (_, name: string) => inner(name, Math.floor(value / divisor)))
    .replace(/→([^→]*)→/g, (_, name: string) => inner(name, rest))
    .replace(/=([^=]*)=/g, (_, name: string) => inner(name, value))
    .replace(/^'|(?<= )'/g, '')
    .replace(/'/g, '');
}
