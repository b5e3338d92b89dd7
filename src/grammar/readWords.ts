import { mostWords, type Heard } from './match/Matcher.ts';
import { largestNumber, shapeId, shapeOfDigits, type WrittenShape } from './writtenShapes.ts';

/** Why an utterance was not even looked at. */
export type UnreadableCode = 'empty' | 'too_long' | 'not_words' | 'negative';

/** An utterance cut into words. */
export interface HeardWords extends Heard {
  readonly ids: number[];
  readonly values: (number | undefined)[];
  /** As written, lower case, beside each id. */
  readonly words: string[];
  readonly isAsked: boolean;
  readonly hasComma: boolean;
}

/** More than this is not one utterance. */
const mostCharacters = 1200;

/** Stands for the id of a hesitation, which says nothing wherever it stands. */
export const dropped = -1;

const outside = /[^\x20-\x7e]/;
const kept: readonly (readonly [RegExp, string])[] = [
  [/[\u2018\u2019\u02bc]/g, "'"],
  [/[\u2010-\u2015\u2212]/g, '-'],
  [/[\u201c\u201d]/g, '"'],
  [/\u2026/g, ', '],
  [/\u2248/g, '~'],
  [/\u00bd/g, ' 1/2 '],
  [/\u00bc/g, ' 1/4 '],
  [/\u00be/g, ' 3/4 '],
  [/[\u338e\u3396]/g, ' ml '],
  [/\u338f|\u33c4/g, ' cc '],
  [/\u2113/g, ' l '],
  [/[\t\n\r\u00a0\u2009\u202f\ufeff]/g, ' '],
];
const signs: Readonly<Record<string, string>> = { '+': 'plus', '&': 'and', '~': 'about' };

const isDigit = (code: number) => code >= 48 && code <= 57;
const isLetter = (code: number) => (code >= 97 && code <= 122) || code === 39;

/**
 * Cut what a person said, or a recogniser wrote, into words and written numbers.
 *
 * @param idOf - word to id; a word it does not know is 0, one that is {@link dropped} is passed over
 */
export function readWords(
  said: string,
  idOf: ReadonlyMap<string, number>,
): HeardWords | UnreadableCode {
  if (said.length > mostCharacters) return 'too_long';
  let text = said;
  if (outside.test(text)) {
    for (const [shape, plain] of kept) text = text.replace(shape, plain);
    if (outside.test(text)) return 'not_words';
  }
  text = text.toLowerCase();
  const cut = new Cut();
  const length = text.length;
  let at = 0;
  while (at < length) {
    const code = text.charCodeAt(at);
    if (code === 32) {
      at++;
    } else if (isLetter(code)) {
      let end = at + 1;
      let isJoined = false;
      while (end < length) {
        const next = text.charCodeAt(end);
        if (isLetter(next) || isDigit(next)) end++;
        // "m.l." and "p.m.": a point between single letters joins them.
        else if (
          next === 46 &&
          isLetter(text.charCodeAt(end + 1)) &&
          !isLetter(text.charCodeAt(end + 2))
        ) {
          isJoined = true;
          end++;
        } else break;
      }
      let word = text.slice(at, end);
      if (isJoined) word = word.replaceAll('.', '');
      at = end;
      let id = idOf.get(word);
      if (id === dropped) continue;
      if (id === undefined && word.endsWith('ish')) {
        // "Three fiftyish" is "three fifty ish".
        const stem = idOf.get(word.slice(0, -3));
        if (stem !== undefined && stem !== dropped) {
          cut.push(stem, undefined, word.slice(0, -3));
          word = 'ish';
          id = idOf.get(word);
        }
      }
      cut.push(id ?? 0, undefined, word);
    } else if (isDigit(code) || (code === 46 && isDigit(text.charCodeAt(at + 1)))) {
      at = readNumber(text, at, cut);
    } else if (code === 36) {
      at = readMoney(text, at, cut);
    } else if (code === 45) {
      const isMinus = isDigit(text.charCodeAt(at + 1)) && (at === 0 || text[at - 1] === ' ');
      if (isMinus && !isDigit(text.charCodeAt(at - 2))) return 'negative';
      const between = isDigit(text.charCodeAt(at - 1)) && isDigit(text.charCodeAt(at + 1));
      const apart = text[at - 1] === ' ' && text[at + 1] === ' ';
      if (between || (apart && isDigit(text.charCodeAt(at - 2))))
        cut.push(shapeId.dash, undefined, '-');
      else if (apart || text[at + 1] === '-') cut.pause();
      at++;
    } else if (code === 63) {
      cut.isAsked = true;
      at++;
    } else if (code === 44 || code === 46 || code === 33 || code === 58 || code === 59) {
      cut.pause();
      at++;
    } else if (code === 34 || code === 40 || code === 41) {
      at++;
    } else {
      const sign = signs[text[at]!];
      cut.push((sign && idOf.get(sign)) || 0, undefined, sign ?? text[at]!);
      at++;
    }
    if (cut.ids.length > mostWords) return 'too_long';
  }
  cut.end();
  return cut.ids.length === 0 ? 'empty' : cut;
}

/** The words of an utterance as they are cut off it. */
class Cut implements HeardWords {
  readonly ids: number[] = [];
  readonly values: (number | undefined)[] = [];
  readonly words: string[] = [];
  isAsked = false;
  hasComma = false;

  push(id: number, value: number | undefined, word: string) {
    this.ids.push(id);
    this.values.push(value);
    this.words.push(word);
  }

  pushShape(shape: WrittenShape, value: number, word: string) {
    this.push(shapeId[shape], shape === 'unknown' ? undefined : value, word);
  }

  pause() {
    const last = this.ids[this.ids.length - 1];
    if (last === undefined || last === shapeId.comma) return;
    this.push(shapeId.comma, undefined, ',');
    this.hasComma = true;
  }

  /** A pause at the end says nothing. */
  end() {
    if (this.ids[this.ids.length - 1] !== shapeId.comma) return;
    this.ids.pop();
    this.values.pop();
    this.words.pop();
    this.hasComma = this.ids.includes(shapeId.comma);
  }
}

const clock = /(\d{1,2}):(\d\d)(?![\d:])/y;
const grouped = /\d{1,3}(?:,\d{3})+(?!\d|,\d)/y;
const decimal = /(\d*)\.(\d+)(?![\d.]*\d)/y;
const fraction = /([13])\/([24])(?!\d)/y;
const broken = /[\d:.,/]*\d/y;

function readNumber(text: string, at: number, cut: Cut): number {
  let end = at;
  while (isDigit(text.charCodeAt(end))) end++;
  const next = text.charCodeAt(end);
  const isMarked = next === 44 || next === 46 || next === 47 || next === 58;
  // Most numbers have no mark inside; the rest is asked for only where one follows.
  if (end > at && !(isMarked && isDigit(text.charCodeAt(end + 1)))) {
    const plain = text.slice(at, end);
    cut.pushShape(shapeOfDigits(plain), Number(plain), plain);
    return end;
  }
  let match = matchAt(clock, text, at);
  if (match) {
    const [whole, hours, minutes] = [match[0], Number(match[1]), Number(match[2])];
    const isTime = hours < 24 && minutes < 60;
    cut.pushShape(isTime ? 'clock' : 'colon', hours * 100 + minutes, whole);
    return at + whole.length;
  }
  match = matchAt(grouped, text, at);
  if (match) {
    const value = Number(match[0].replaceAll(',', ''));
    cut.pushShape(
      value > largestNumber ? 'oversize' : shapeOfDigits(String(value)),
      value,
      match[0],
    );
    return at + match[0].length;
  }
  match = matchAt(decimal, text, at);
  if (match && match[0].length < 12) {
    cut.pushShape(match[2]!.length === 2 ? 'hundredths' : 'decimal', Number(match[0]), match[0]);
    return at + match[0].length;
  }
  match = matchAt(fraction, text, at);
  if (match) {
    cut.pushShape('fraction', Number(match[1]) / Number(match[2]), match[0]);
    return at + match[0].length;
  }
  match = matchAt(broken, text, at);
  cut.pushShape('unknown', 0, match![0]);
  return at + match![0].length;
}

const money = /\$(\d{1,3})\.(\d\d)(?!\d)/y;

/** "$3.50" is how a recogniser writes "three fifty"; other sums are money. */
function readMoney(text: string, at: number, cut: Cut): number {
  const match = matchAt(money, text, at);
  if (match) {
    cut.pushShape('money', Number(match[1]) * 100 + Number(match[2]), match[0]);
    return at + match[0].length;
  }
  cut.pushShape('unknown', 0, '$');
  return at + 1;
}

function matchAt(shape: RegExp, text: string, at: number): RegExpExecArray | null {
  shape.lastIndex = at;
  return shape.exec(text);
}
