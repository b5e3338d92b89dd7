import { spellNumber } from '../../support/spellNumber.ts';
import * as phrases from './phrases.ts';
import { Random } from './random.ts';

export interface Utterance {
  readonly said: string;
  /** mL, or null where no number may come out. */
  readonly mL: number | null;
  readonly kind: 'volume' | 'talk' | 'tempting' | 'two ways';
}

/** The same utterances for the same seed: two thirds volumes, the rest what must not become one. */
export function corpus(count: number, seed: number): Utterance[] {
  const random = new Random(seed);
  return Array.from({ length: count }, () => {
    const dice = random.next();
    if (dice < 0.66) return volume(random);
    const [kind, said] =
      dice < 0.8
        ? (['talk', random.pick(phrases.talk)] as const)
        : dice < 0.92
          ? (['tempting', random.pick(phrases.tempting)] as const)
          : (['two ways', random.pick(phrases.twoWays)] as const);
    return { said: dressed(random, said), mL: null, kind };
  });
}

function volume(random: Random): Utterance {
  const value = () =>
    random.pick([25, 25, 50, 10, 5]) * (5 + random.below(35)) + random.pick([0, 0, 0, 3]);
  const mL = value();
  const amount = (number: number) => {
    const said = spelt(random, number);
    return `${said} ${random.maybe(0.4, random.pick(phrases.units))}`.trim();
  };
  const made: (() => { said: string; mL: number })[] = [
    () => ({ said: amount(mL), mL }),
    () => ({ said: `${random.pick(phrases.leads)} ${amount(mL)}`, mL }),
    () => ({ said: `${random.pick(phrases.leads)} ${amount(mL)}`, mL }),
    () => ({ said: `${amount(mL)} ${random.pick(phrases.tails)}`, mL }),
    () => ({ said: `${amount(value())}${random.pick(phrases.corrections)}${amount(mL)}`, mL }),
    () => {
      const more = 100 + value();
      return { said: `${amount(mL)} ${random.pick(phrases.joins)} ${amount(more)}`, mL: mL + more };
    },
    () => ({ said: `${random.pick(phrases.others)} ${amount(mL)}`, mL }),
    () => ({ said: `${random.pick(['about', 'around', 'roughly'])} ${amount(mL)}`, mL }),
    () => ({
      said: random.pick(['none', 'nothing', 'zero', "it's dry", 'nil', 'zero mls']),
      mL: 0,
    }),
    () => {
      const ounces = random.pick([2, 4, 6, 8, 10, 12, 16]);
      return { said: `${spellNumber(ounces, '%spellout-cardinal')} ounces`, mL: ounces * 30 };
    },
    () => {
      const litres = random.pick([1.2, 1.5, 0.5, 1.25, 2]);
      return { said: `${litres} ${random.pick(['L', 'liters', 'litres'])}`, mL: litres * 1000 };
    },
  ];
  const { said, mL: meant } = random.pick(made)();
  return { said: dressed(random, said), mL: meant, kind: 'volume' };
}

function spelt(random: Random, number: number): string {
  const [hundreds, rest] = [Math.floor(number / 100), number % 100];
  const small = (value: number) => spellNumber(value, '%spellout-cardinal');
  const ways = [
    small(number),
    spellNumber(number, '%spellout-cardinal-verbose'),
    String(number),
    number.toLocaleString('en-US'),
  ];
  if (number >= 100) ways.push([...String(number)].map((digit) => small(Number(digit))).join(' '));
  if (hundreds > 0 && hundreds < 20 && hundreds !== 10 && rest > 9)
    ways.push(`${small(hundreds)} ${small(rest)}`, `${hundreds} ${rest}`);
  if (hundreds > 10 && hundreds < 20)
    ways.push(`${small(hundreds)} hundred ${rest ? small(rest) : ''}`.trim());
  return random.pick(ways);
}

/** As recognisers write: capitals, full stops, shouting. */
function dressed(random: Random, said: string): string {
  const dice = random.next();
  if (dice < 0.7) return said;
  if (dice < 0.85) return `${said[0]!.toUpperCase()}${said.slice(1)}.`;
  return dice < 0.95 ? `${said}.` : said.toUpperCase();
}
