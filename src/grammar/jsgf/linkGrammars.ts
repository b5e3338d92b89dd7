import type { Expansion, Grammar, Rule } from './grammar.ts';
import { GrammarError } from './grammarError.ts';
import { emptyRules } from './emptiness.ts';

/** Rules the reader brings itself: what JSGF predefines, and the shapes of written numbers. */
export type BuiltIn = (name: string) => boolean;

/**
 * Resolve every rule name of several files to `grammar.rule`.
 *
 * @param isBuiltIn - full names that need no definition
 * @throws {GrammarError} `grammar_unknown`, `rule_unknown`, `rule_private`, `left_recursion`
 */
export function linkGrammars(
  grammars: readonly Grammar[],
  isBuiltIn: BuiltIn = () => false,
): ReadonlyMap<string, Rule> {
  const byName = new Map(grammars.map((grammar) => [grammar.name, grammar]));
  const rules = new Map<string, Rule>();
  for (const grammar of grammars) {
    const resolve = resolver(grammar, byName, isBuiltIn);
    for (const rule of grammar.rules) {
      const name = `${grammar.name}.${rule.name}`;
      rules.set(name, { ...rule, name, body: renamed(rule.body, resolve) });
    }
  }
  refuseLeftRecursion(rules);
  return rules;
}

type Resolve = (name: string, line: number) => string;

function resolver(
  grammar: Grammar,
  byName: ReadonlyMap<string, Grammar>,
  isBuiltIn: BuiltIn,
): Resolve {
  const own = new Set(grammar.rules.map(({ name }) => name));
  const imported = new Map<string, string>();
  const wholly: string[] = [];
  const publicOf = (target: string, line: number) => {
    const dot = target.lastIndexOf('.');
    const from = byName.get(target.slice(0, dot));
    if (!from)
      throw new GrammarError('grammar_unknown', grammar.file, line, `no grammar for <${target}>`);
    const rule = from.rules.find(({ name }) => name === target.slice(dot + 1));
    if (!rule) throw new GrammarError('rule_unknown', grammar.file, line, `<${target}>`);
    if (!rule.isPublic) throw new GrammarError('rule_private', grammar.file, line, `<${target}>`);
    return target;
  };
  for (const { name, line } of grammar.imports) {
    const dot = name.lastIndexOf('.');
    const from = name.slice(0, dot);
    if (!name.endsWith('.*')) {
      if (!isBuiltIn(name)) publicOf(name, line);
      imported.set(name.slice(dot + 1), name);
    } else if (byName.has(from)) {
      for (const rule of byName.get(from)!.rules)
        if (rule.isPublic) imported.set(rule.name, `${from}.${rule.name}`);
    } else wholly.push(from);
  }
  return (name, line) => {
    if (own.has(name)) return `${grammar.name}.${name}`;
    if (imported.has(name)) return imported.get(name)!;
    for (const from of ['', ...wholly.map((prefix) => `${prefix}.`)])
      if (isBuiltIn(from + name)) return from + name;
    if (name.includes('.')) return publicOf(name, line);
    throw new GrammarError('rule_unknown', grammar.file, line, `<${name}> is not defined`);
  };
}

function renamed(body: Expansion, resolve: Resolve): Expansion {
  switch (body.type) {
    case 'word':
    case 'tag':
      return body;
    case 'rule':
      return { ...body, name: resolve(body.name, body.line) };
    case 'sequence':
      return { ...body, parts: body.parts.map((part) => renamed(part, resolve)) };
    case 'choice':
      return {
        ...body,
        options: body.options.map(({ weight, body: option }) => ({
          weight,
          body: renamed(option, resolve),
        })),
      };
    case 'optional':
    case 'repeat':
      return { ...body, body: renamed(body.body, resolve) };
  }
}

function refuseLeftRecursion(rules: ReadonlyMap<string, Rule>) {
  const empty = emptyRules(rules);
  const firsts = new Map<string, string[]>();
  for (const rule of rules.values()) {
    const found: string[] = [];
    // Collects what can stand first, and says whether the body can be passed without a word.
    const visit = (body: Expansion): boolean => {
      switch (body.type) {
        case 'word':
          return false;
        case 'tag':
          return true;
        case 'rule':
          found.push(body.name);
          return empty.has(body.name);
        case 'sequence':
          return body.parts.every(visit);
        case 'choice':
          return body.options.map((option) => visit(option.body)).some(Boolean);
        case 'optional':
          visit(body.body);
          return true;
        case 'repeat':
          return visit(body.body) || body.least === 0;
      }
    };
    visit(rule.body);
    firsts.set(rule.name, found);
  }
  const done = new Set<string>();
  const open: string[] = [];
  const walk = (name: string) => {
    if (open.includes(name)) {
      const rule = rules.get(name)!;
      const ring = [...open.slice(open.indexOf(name)), name].map((each) => `<${each}>`);
      throw new GrammarError('left_recursion', rule.file, rule.line, ring.join(' > '));
    }
    if (done.has(name)) return;
    open.push(name);
    for (const next of firsts.get(name) ?? []) walk(next);
    open.pop();
    done.add(name);
  };
  for (const name of rules.keys()) walk(name);
}
