import { Automaton, dead, ended, isFinal } from './Automaton.ts';
import type { CompiledRules, Way } from './compileRules.ts';
import { isSameValue, type Fields, type Value } from './compileTag.ts';
import { hashOf, IntTable } from './IntTable.ts';
import { Phrases } from './Phrases.ts';
import { runTag, valueOf, type Gathered } from './runTag.ts';

/** Words as the matcher reads them. */
export interface Heard {
  /** Id of each word; 0 is a word that no rule knows. */
  readonly ids: readonly number[];
  /** The number that a written shape stands for; nothing for a word. */
  readonly values: readonly (number | undefined)[];
}

/** One way through a rule so far; where a rule named in it has several values, one for each. */
interface Course extends Gathered {
  /** The value of what was named last. */
  last: Value;
  next: Course | null;
}

/** What a walk through one rule is after. */
interface Goal {
  readonly end: number;
  /** Its values; null until there is one, for many walks are made and most find one or none. */
  found: Value[] | null;
}

/** More words than this are not one utterance. */
export const mostWords = 60;
/** Places of a word, the end counted as one. */
const width = mostWords + 1;
/** Bounds on the work for one utterance; a sentence that people say needs a tenth. */
const mostSteps = 2000;
const mostValues = 32;
/** From so many on, what a part of this utterance means is kept for the rest of it. */
const manySteps = 60;
/** What reaches an end over so few words is asked anew each time. */
const fewWords = 8;
/** Power of 2: places for what does over more. */
const reachBits = 12;
/** Power of 2: places for what a part of this utterance means. */
const partBits = 10;
/** So many times the ways out of a state that a kind of word leaves are kept. */
const mostWays = 1 << 15;
const noFields: Fields = {};
const nothing: readonly Value[] = [];

/**
 * Finds every way in which a rule takes a whole sequence of words, and what each way means.
 *
 * The {@link Automaton} tells from any point whether the rest can be taken, so that only ways which
 * lead to the end are walked, and their tags are run as they are met. What a few words mean to a
 * rule is kept for other utterances; of a whole utterance nothing is kept.
 *
 * The work is bounded: where a sentence has more ways than any person means, `isTangled` is set and
 * the answer is not complete.
 */
export class Matcher {
  readonly #compiled: CompiledRules;
  readonly #automaton: Automaton;
  readonly #phrases: Phrases;
  readonly #kindCount: number;
  /** By state and kind, or the end: the ways that may lead on. */
  readonly #waysAt = new IntTable(mostWays);
  #ways: (readonly Way[])[] = [];

  #heard: Heard = { ids: [], values: [] };
  readonly #kinds = new Int32Array(mostWords);
  #count = 0;
  #given = noFields;
  #keptFor = noFields;
  /** Whether values are kept for other utterances: only where something was given. */
  #isKeeping = false;
  /** By a hash of rule, start and end: which, in which utterance, and its values. */
  readonly #parts = new Int32Array(2 << partBits);
  readonly #partValues: (readonly Value[])[] = new Array<readonly Value[]>(1 << partBits).fill([]);
  /** By a hash of state, start and end: which, and twice the utterance with one more where it can. */
  readonly #reach = new Int32Array(2 << reachBits);
  #call = 0;
  #steps = 0;
  isTangled = false;

  constructor(compiled: CompiledRules) {
    this.#compiled = compiled;
    this.#kindCount = Math.max(...compiled.kindOf) + 1;
    this.#automaton = new Automaton(compiled);
    this.#phrases = new Phrases(compiled.kindOf.length, mostWords);
  }

  /**
   * Every value of the rule over all of the words.
   *
   * @param rule - full name
   * @param given - names that tags may read
   */
  whole(rule: string, heard: Heard, given?: Fields): readonly Value[] {
    const index = this.#compiled.indexOf.get(rule);
    if (index === undefined) throw new Error(`matcher: no rule <${rule}>`);
    const count = heard.ids.length;
    if (count > mostWords) throw new Error(`matcher: more than ${mostWords} words`);
    this.isTangled = false;
    const table = this.#compiled.oneWord[index];
    if (table) {
      // Kinds do not tell the words of such a rule apart.
      const word = count === 1 ? table.get(heard.ids[0]!) : undefined;
      return word === undefined ? [] : [word === 'own' ? heard.values[0] : word.value];
    }
    this.#count = count;
    for (let at = 0; at < count; at++) this.#kinds[at] = this.#compiled.kindOf[heard.ids[at]!]!;
    this.#automaton.tidy();
    if (!this.#runs(this.#compiled.entry[index]!, 0, count)) return [];
    this.#prepare(heard, given);
    const values = this.#walkRule(index, 0, count);
    this.isTangled ||= this.#steps > mostSteps;
    return values;
  }

  #prepare(heard: Heard, given: Fields | undefined) {
    this.#heard = heard;
    this.#given = given ?? noFields;
    this.#isKeeping = given !== undefined;
    this.#steps = 0;
    if (this.#call++ === 0x3fffffff) {
      this.#parts.fill(0);
      this.#reach.fill(0);
      this.#call = 1;
    }
    if (!given) return;
    if (given !== this.#keptFor && !isSameValue(given, this.#keptFor)) this.#phrases.clear();
    this.#keptFor = given;
    this.#phrases.hear(heard.ids, heard.values);
  }

  /** Whether the rule of the state can be at its end at `end`, from here. */
  #reaches(at: number, from: number, end: number): boolean {
    if (end - from <= fewWords) return this.#runs(at, from, end);
    // The same is asked again and again where one word stands many times in a row.
    const key = (at * width + from) * width + end;
    const place = hashOf(key, reachBits) << 1;
    const known = this.#reach[place + 1]!;
    if (this.#reach[place] === key && known >> 1 === this.#call) return (known & 1) === 1;
    const can = this.#runs(at, from, end);
    this.#reach[place] = key;
    this.#reach[place + 1] = this.#call * 2 + Number(can);
    return can;
  }

  #runs(at: number, from: number, end: number): boolean {
    let set = this.#automaton.start(at);
    for (let position = from; position < end; position++) {
      set = this.#automaton.step(set, this.#kinds[position]!);
      if (set === dead) return false;
    }
    return isFinal(set);
  }

  #valuesOf(rule: number, start: number, end: number): readonly Value[] {
    const hash = this.#isKeeping ? this.#phrases.hashOf(rule, start, end) : 0;
    const kept = hash === 0 ? undefined : this.#phrases.valuesOf(hash, rule, start, end);
    if (kept) return kept;
    // Few utterances ask twice, and those take many steps.
    if (this.#steps < manySteps) return this.#keepPhrase(hash, rule, start, end);
    const key = (rule * width + start) * width + end;
    const place = hashOf(key, partBits);
    if (this.#parts[place * 2] === key && this.#parts[place * 2 + 1] === this.#call)
      return this.#partValues[place]!;
    const values = this.#keepPhrase(hash, rule, start, end);
    this.#parts[place * 2] = key;
    this.#parts[place * 2 + 1] = this.#call;
    this.#partValues[place] = values;
    return values;
  }

  #keepPhrase(hash: number, rule: number, start: number, end: number): readonly Value[] {
    const values = this.#walkRule(rule, start, end);
    const isPart = end - start < this.#count;
    if (hash !== 0 && isPart && !this.isTangled && this.#steps <= mostSteps)
      this.#phrases.keep(hash, rule, start, end, values);
    return values;
  }

  #walkRule(rule: number, start: number, end: number): readonly Value[] {
    const goal: Goal = { end, found: null };
    const course = { fields: null, isOwn: false, last: undefined, next: null };
    this.#walk(this.#compiled.entry[rule]!, start, goal, course);
    return goal.found ?? nothing;
  }

  /** Follow every way from a state that is known to lead to the goal. */
  #walk(from: number, start: number, goal: Goal, course: Course | null) {
    const { end } = goal;
    let at = from;
    let position = start;
    while (course) {
      if (++this.#steps > mostSteps || this.isTangled) break;
      const { isFinal: canEnd, ways: all } = this.#compiled.states[at]!;
      if (position === end && canEnd) {
        this.#keep(goal, course);
        if (all.length === 0) return;
      }
      // Where one way leads on, and there is but one, it is that.
      const ways =
        all.length === 1 && !canEnd
          ? all
          : this.#waysFor(at, position < end ? this.#kinds[position]! : -1);
      // The last way that leads on may have the course itself; each one before it, a copy.
      let way: Way | undefined;
      let stop = 0;
      for (const each of ways) {
        if (each.rule < 0 || each.table) {
          const next = each.action ? position : position + 1;
          if (ways.length > 1 && !this.#reaches(each.to, next, end)) continue;
          if (way) this.#take(way, position, stop, goal, copyOf(course));
          way = each;
          stop = next;
          continue;
        }
        const called = this.#compiled.entry[each.rule]!;
        if (this.#automaton.start(each.to) === ended) {
          if (ways.length > 1 && !this.#reaches(called, position, end)) continue;
          if (way) this.#take(way, position, stop, goal, copyOf(course));
          way = each;
          stop = end;
          continue;
        }
        let set = this.#automaton.start(called);
        for (let next = position; ; next++) {
          if (isFinal(set) && this.#reaches(each.to, next, end)) {
            if (way) this.#take(way, position, stop, goal, copyOf(course));
            way = each;
            stop = next;
          }
          if (next >= end) break;
          set = this.#automaton.step(set, this.#kinds[next]!);
          if (set === dead) break;
        }
      }
      if (!way) return;
      course = this.#pass(way, position, stop, course);
      at = way.to;
      position = stop;
    }
  }

  #take(way: Way, position: number, stop: number, goal: Goal, course: Course) {
    const after = this.#pass(way, position, stop, course);
    if (after) this.#walk(way.to, stop, goal, after);
  }

  /** What becomes of a course on one way; null where nothing is left of it. */
  #pass(way: Way, position: number, stop: number, course: Course): Course | null {
    if (way.action) {
      let left: Course | null = null;
      let tail: Course | null = null;
      for (let each: Course | null = course; each; each = each.next) {
        if (!runTag(way.action, each, each.last, this.#given)) continue;
        if (tail) tail.next = each;
        else left = each;
        tail = each;
      }
      if (tail) tail.next = null;
      return left;
    }
    if (way.rule >= 0 && !way.table)
      return this.#spread(course, this.#valuesOf(way.rule, position, stop));
    if (way.table) {
      const word = way.table.get(this.#heard.ids[position]!)!;
      const value = word === 'own' ? this.#heard.values[position] : word.value;
      for (let each: Course | null = course; each; each = each.next) each.last = value;
    } else if (way.word < this.#compiled.firstWord)
      for (let each: Course | null = course; each; each = each.next)
        each.last = this.#heard.values[position];
    return course;
  }

  /** Each course with each value, in order; null where there is no value. */
  #spread(course: Course, values: readonly Value[]): Course | null {
    if (values.length === 0) return null;
    for (let each: Course | null = course; each;) {
      const after: Course | null = each.next;
      each.last = values[0];
      let tail: Course = each;
      for (let index = 1; index < values.length; index++) {
        if (++this.#steps > mostSteps) return null;
        each.isOwn = false;
        tail = tail.next = { fields: each.fields, isOwn: false, last: values[index], next: null };
      }
      tail.next = after;
      each = after;
    }
    return course;
  }

  #keep(goal: Goal, course: Course) {
    for (let each: Course | null = course; each; each = each.next) {
      const { found } = goal;
      const value = valueOf(each.fields, each.last);
      each.isOwn = false;
      if (!found) {
        // Written so it takes no more memory than one value needs.
        goal.found = [value];
        continue;
      }
      if (found.length > mostValues) this.isTangled = true;
      if (!found.some((before) => isSameValue(before, value))) found.push(value);
    }
  }

  /** The ways out of a state that a kind of word, or the end of the rule, leaves. */
  #waysFor(at: number, kind: number): readonly Way[] {
    const key = at * (this.#kindCount + 1) + kind + 1;
    const known = this.#waysAt.get(key);
    if (known >= 0) return this.#ways[known]!;
    const { states, entry, kindOf } = this.#compiled;
    const goesOn = (to: number) => {
      const set = this.#automaton.start(to);
      return kind < 0 ? isFinal(set) : this.#automaton.step(set, kind) !== dead;
    };
    const ways = states[at]!.ways.filter((way) => {
      if (way.action) return goesOn(way.to);
      if (way.word >= 0) return kindOf[way.word] === kind;
      if (way.table) return [...way.table.keys()].some((word) => kindOf[word] === kind);
      const called = entry[way.rule]!;
      return (
        (kind >= 0 && goesOn(called)) || (isFinal(this.#automaton.start(called)) && goesOn(way.to))
      );
    });
    if (this.#waysAt.isFull) {
      this.#waysAt.clear();
      this.#ways = [];
    }
    this.#waysAt.add(key, this.#ways.length);
    this.#ways.push(ways);
    return ways;
  }
}

/** A copy that leads on first; what it finds may be the parts themselves, so no one owns them now. */
function copyOf(course: Course): Course {
  const copy: Course = { fields: course.fields, isOwn: false, last: course.last, next: null };
  course.isOwn = false;
  let tail = copy;
  for (let each = course.next; each; each = each.next) {
    each.isOwn = false;
    tail = tail.next = { fields: each.fields, isOwn: false, last: each.last, next: null };
  }
  return copy;
}
