import type { Container } from '../measure/vessel.ts';
import type { Expectation } from './expectation.ts';
import { printExpansion } from './jsgf/printExpansion.ts';
import { isFields } from './match/compileTag.ts';
import { sayings } from './match/sayings.ts';
import type { Reader } from './Reader.ts';
import type { Route } from './routes.ts';
import { rulesOfSentences } from './wordGraph.ts';

/** What an ear listens for in one state. */
export interface EarGrammar {
  /** One file, no import, no tag, no left recursion, lower-case words only. */
  readonly jsgf: string;
  /** Every word in it, sorted, for the engine's dictionary. */
  readonly words: readonly string[];
  /** For engines that take phrases to favour (Web Speech `phrases`; boost 0 to 10). */
  readonly phrases: readonly { readonly phrase: string; readonly boost: number }[];
}

const commandBoost = 4;
const lineBoost = 3;
/** Engines take only so many phrases. */
const mostPhrases = 200;

/**
 * How likely each part is, beside a bare line, where a container is in the hand.
 *
 * Measured with joined digits of three people: unweighted, "three" became "that's" and "no" was heard
 * before a number; so weighted, those who do say "it's" are still understood.
 */
const commandWeight = '0.00000001';
const rareWeight = '0.000000000000001';

/**
 * Beside a number, commands are rarer and all else is rare. What was drunk is rarely said anew once it
 * was read back: unweighted, "correct" became "a third an juice".
 */
function weightOf({ kind }: Route, expectation: Expectation): string {
  if ('container' in expectation) return kind === 'command' ? commandWeight : rareWeight;
  return kind === 'item' && expectation.state === 'trayReadback' ? rareWeight : '1';
}

/**
 * Heard in every state, so that it is known for what it is; whoever listens takes only what the state
 * asks for.
 */
const notForNow = 'commands.elsewhere';

const containerOf = (expectation: Expectation): Container | undefined =>
  'container' in expectation ? expectation.container : undefined;

/** Narrows the grammar files to a state and a container. Keeps what it made. */
export class EarGrammars {
  readonly #reader: Reader;
  readonly #lines = new Map<string, readonly string[]>();
  readonly #made = new Map<string, EarGrammar>();

  constructor(reader: Reader) {
    this.#reader = reader;
  }

  of(expectation: Expectation, routes: readonly Route[]): EarGrammar {
    const container = containerOf(expectation);
    const key = `${expectation.state} ${container?.capacity}/${container?.lineStep}`;
    let made = this.#made.get(key);
    if (!made) this.#made.set(key, (made = this.#make(routes, expectation)));
    return made;
  }

  #make(routes: readonly Route[], expectation: Expectation): EarGrammar {
    const container = containerOf(expectation);
    const printer = new RulePrinter(this.#reader);
    const heads: string[] = [];
    const rules: string[] = [];
    const phrases: { phrase: string; boost: number }[] = [];
    for (const route of routes) {
      if (route.kind !== 'volume') {
        const name = printer.nameOf(route.rule);
        if (name === null) continue;
        heads.push(`/${weightOf(route, expectation)}/ <${name}>`);
        for (const phrase of this.#phrasesOf(route.rule))
          phrases.push({ phrase, boost: commandBoost });
      } else if (container) {
        const lines = this.#linesOf(container);
        rules.push(...rulesOfSentences('line', lines));
        const part = (rule: string) => `<${printer.nameOf(rule)}>`;
        const line = `<line> [ ${part('volume.earUnit')} ]`;
        heads.push(`/1/ ${line}`);
        heads.push(`/${rareWeight}/ ${part('volume.earLead')} ${line}`);
        heads.push(`/${rareWeight}/ ${part('volume.earNothing')}`);
        for (const phrase of lines) phrases.push({ phrase, boost: lineBoost });
      }
    }
    const elsewhere = this.#reader.has(notForNow) ? printer.nameOf(notForNow) : null;
    if (elsewhere !== null && heads.length > 0)
      heads.push(`/${container ? rareWeight : '1'}/ <${elsewhere}>`);
    const all = [...printer.rules, ...rules];
    const head = `public <ear> = ${heads.join(' | ') || '<VOID>'};`;
    const jsgf = ['#JSGF V1.0;', 'grammar ear;', head, ...all, ''].join('\n');
    const words = new Set(
      [head, ...all]
        .join(' ')
        .replace(/<[^>]*>|\/[\d.e-]+\//g, ' ')
        .match(/[a-z'][a-z']*/g)
        ?.filter((word) => word !== 'public') ?? [],
    );
    return { jsgf, words: [...words].sort(), phrases };
  }

  /** Every way to say a line of the container, from its first to its top one. */
  #linesOf(container: Container): readonly string[] {
    const { capacity, lineStep } = container;
    const key = `${capacity}/${lineStep}`;
    const before = this.#lines.get(key);
    if (before) return before;
    // A part of a number is never more than the number.
    const fits = (value: unknown) => typeof value !== 'number' || value <= capacity;
    const lines = sayings(this.#reader.compiled, 'numbers.number', {}, fits)
      .filter(({ value }) => {
        const n = isFields(value) ? (value.n as number) : -1;
        return n >= 0 && n <= capacity && n % lineStep === 0;
      })
      .map(({ phrase }) => phrase)
      // Whoever says "oh" for one nought says it for the next: the mixture is only ever misheard.
      .filter((phrase) => !(/\boh\b/.test(phrase) && /\bzero\b/.test(phrase)));
    this.#lines.set(key, lines);
    return lines;
  }

  #phrasesOf(rule: string): string[] {
    const all = sayings(this.#reader.compiled, rule, {}, () => true, mostPhrases);
    return [...new Set(all.map(({ phrase }) => phrase))];
  }
}

/** Writes the rules that a rule needs, under names without a dot. */
class RulePrinter {
  readonly rules: string[] = [];
  readonly #reader: Reader;
  readonly #names = new Map<string, string | null>();

  constructor(reader: Reader) {
    this.#reader = reader;
  }

  nameOf(rule: string): string | null {
    const known = this.#names.get(rule);
    if (known !== undefined) return known;
    const found = this.#reader.rules.get(rule);
    if (!found) return null;
    const name = rule.replace('.', '_');
    // Set first: a rule may end in itself.
    this.#names.set(rule, name);
    const text = printExpansion(found.body, (inner) => this.nameOf(inner));
    if (!text) this.#names.set(rule, null);
    else this.rules.push(`<${name}> = ${text};`);
    return text ? name : null;
  }
}
