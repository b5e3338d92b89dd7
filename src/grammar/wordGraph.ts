interface Node {
  isEnd: boolean;
  readonly next: Map<string, Node>;
  /** Number of its class once endings are shared. */
  id: number;
}

/**
 * Write sentences as JSGF rules that share their beginnings and their endings.
 *
 * @param name - of the first rule; the others are named after it
 * @returns rules that say exactly these sentences, without recursion
 */
export function rulesOfSentences(name: string, sentences: Iterable<string>): string[] {
  const root = node();
  for (const sentence of sentences) {
    let at = root;
    for (const word of sentence.split(' ')) {
      let to = at.next.get(word);
      if (!to) at.next.set(word, (to = node()));
      at = to;
    }
    at.isEnd = true;
  }
  const classes = new Map<string, Node>();
  const share = (each: Node): Node => {
    for (const [word, to] of each.next) each.next.set(word, share(to));
    const key = `${each.isEnd}${[...each.next].map(([word, to]) => `,${word}>${to.id}`).sort()}`;
    const same = classes.get(key);
    if (same) return same;
    each.id = classes.size;
    classes.set(key, each);
    return each;
  };
  const first = share(root);
  const uses = new Map<Node, number>();
  for (const each of classes.values())
    for (const to of new Set(each.next.values())) uses.set(to, (uses.get(to) ?? 0) + 1);

  const rules: string[] = [];
  const written = new Map<Node, string>();
  const body = (each: Node): string => {
    const byEnd = new Map<Node, string[]>();
    for (const [word, to] of each.next) byEnd.set(to, [...(byEnd.get(to) ?? []), word]);
    const options = [...byEnd].map(([to, words]) => {
      const here = words.length === 1 ? words[0]! : `( ${words.join(' | ')} )`;
      return to.next.size === 0 ? here : `${here} ${reference(to)}`;
    });
    return options.join(' | ');
  };
  const reference = (each: Node): string => {
    const open = each.isEnd ? '[' : '(';
    const close = each.isEnd ? ']' : ')';
    if ((uses.get(each) ?? 0) < 2) return `${open} ${body(each)} ${close}`;
    let rule = written.get(each);
    if (!rule) {
      rule = `${name}${written.size + 1}`;
      written.set(each, rule);
      rules.push(`<${rule}> = ${body(each)};`);
    }
    return each.isEnd ? `[ <${rule}> ]` : `<${rule}>`;
  };
  const start = body(first);
  return [...rules, `<${name}> = ${start || '<VOID>'};`];
}

const node = (): Node => ({ isEnd: false, next: new Map(), id: -1 });
