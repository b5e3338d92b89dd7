import { isSameValue, type Fields, type Value } from './compileTag.ts';
import type { Heard } from './Matcher.ts';
import { runTag, valueOf, type Gathered } from './runTag.ts';
import type { Path, Span } from './span.ts';

const noFields: Fields = {};
/** Bounds on the work for one utterance; a sentence that people say needs a tenth. */
const mostSteps = 2000;
const mostValues = 32;
/** So many wordings of a span are kept. */
const mostByWords = 1024;

/** The third pass of the matcher: runs the tags of the paths that were found. */
export class Meanings {
  #heard: Heard = { ids: [], values: [] };
  /** The words of the utterance, a letter for each. */
  #text = '';
  #given = noFields;
  #keptFor = noFields;
  /** Whether values are kept by their words: only where something was given. */
  #isKeeping = false;
  #steps = 0;
  readonly #filled: Span[] = [];
  isTangled = false;

  /** @returns whether what is kept may still be used */
  prepare(given: Fields | undefined): boolean {
    this.#given = given ?? noFields;
    this.#isKeeping = given !== undefined;
    if (!given || isSameValue(given, this.#keptFor)) return true;
    this.#keptFor = given;
    return false;
  }

  /** Every value of a span over the whole utterance. */
  of(span: Span, heard: Heard): readonly Value[] {
    this.#heard = heard;
    this.#text = String.fromCharCode(...heard.ids);
    this.#steps = 0;
    this.isTangled = false;
    const values = this.#valuesOf(span, 0);
    for (const each of this.#filled) each.values = null;
    this.#filled.length = 0;
    return values;
  }

  #valuesOf(span: Span, base: number): readonly Value[] {
    if (span.values && span.base === base) return span.values;
    const byWords = this.#isKeeping ? span.byWords : null;
    const words = byWords ? this.#text.slice(base, base + span.length) : '';
    const before = byWords?.get(words);
    if (before) return before;
    const found: Value[] = [];
    for (const path of span.paths) this.#run(path, 0, base, null, undefined, found);
    if (byWords && byWords.size < mostByWords && !this.isTangled) byWords.set(words, found);
    span.values = found;
    span.base = base;
    this.#filled.push(span);
    return found;
  }

  #run(path: Path, from: number, base: number, fields: Fields | null, last: Value, found: Value[]) {
    if (++this.#steps > mostSteps || found.length > mostValues) this.isTangled = true;
    if (this.isTangled) return;
    const now: Gathered = { fields, isOwn: false };
    for (let index = from; index < path.length; index++) {
      const step = path[index]!;
      switch (step.type) {
        case 'tag':
          if (!runTag(step.action, now, last, this.#given)) return;
          break;
        case 'shape':
          last = this.#heard.values[base + step.at];
          break;
        case 'word': {
          const word = step.table.get(this.#heard.ids[base + step.at]!)!;
          last = word === 'own' ? this.#heard.values[base + step.at] : word.value;
          break;
        }
        case 'rule': {
          const values = this.#valuesOf(step.span, base + step.at);
          if (values.length !== 1) {
            for (const value of values) this.#run(path, index + 1, base, now.fields, value, found);
            return;
          }
          last = values[0];
        }
      }
    }
    keep(found, valueOf(now.fields, last));
  }
}

function keep(found: Value[], value: Value) {
  for (const each of found) if (isSameValue(each, value)) return;
  found.push(value);
}
