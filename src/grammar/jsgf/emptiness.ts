import type { Expansion, Rule } from './grammar.ts';

/** Which rules can match no word at all. */
export function emptyRules(rules: ReadonlyMap<string, Rule>): ReadonlySet<string> {
  const empty = new Set<string>(['NULL']);
  for (let grew = true; grew;) {
    grew = false;
    for (const rule of rules.values())
      if (!empty.has(rule.name) && canBeEmpty(rule.body, empty)) {
        empty.add(rule.name);
        grew = true;
      }
  }
  return empty;
}

/** Tells of any expansion of these rules whether it can match no word at all. */
export function emptiness(rules: ReadonlyMap<string, Rule>): (body: Expansion) => boolean {
  const empty = emptyRules(rules);
  return (body) => canBeEmpty(body, empty);
}

function canBeEmpty(body: Expansion, empty: ReadonlySet<string>): boolean {
  switch (body.type) {
    case 'word':
      return false;
    case 'rule':
      return empty.has(body.name);
    case 'tag':
    case 'optional':
      return true;
    case 'sequence':
      return body.parts.every((part) => canBeEmpty(part, empty));
    case 'choice':
      return body.options.some((option) => canBeEmpty(option.body, empty));
    case 'repeat':
      return body.least === 0 || canBeEmpty(body.body, empty);
  }
}
