import type { AlertCode } from './alerts.ts';

export type LookAspect = 'colour' | 'clarity' | 'odour' | 'sediment' | 'blood';

interface LookKind {
  readonly aspect: LookAspect;
  /** What is told to the nurse when this was seen; left out for what is only charted. */
  readonly alert?: AlertCode;
}

/**
 * What may be seen or smelled, as coded findings. They are charted with the words that were said,
 * and nothing is concluded from them.
 */
export const looks = {
  colourless: { aspect: 'colour' },
  pale: { aspect: 'colour' },
  yellow: { aspect: 'colour' },
  amber: { aspect: 'colour' },
  dark: { aspect: 'colour', alert: 'somethingWrong' },
  orange: { aspect: 'colour', alert: 'somethingWrong' },
  brown: { aspect: 'colour', alert: 'somethingWrong' },
  green: { aspect: 'colour', alert: 'somethingWrong' },
  black: { aspect: 'colour', alert: 'somethingWrong' },
  pink: { aspect: 'colour', alert: 'blood' },
  red: { aspect: 'colour', alert: 'blood' },
  clear: { aspect: 'clarity' },
  cloudy: { aspect: 'clarity', alert: 'cloudy' },
  thick: { aspect: 'clarity', alert: 'cloudy' },
  watery: { aspect: 'clarity' },
  noOdour: { aspect: 'odour' },
  strongOdour: { aspect: 'odour', alert: 'foul' },
  foulOdour: { aspect: 'odour', alert: 'foul' },
  sweetOdour: { aspect: 'odour', alert: 'somethingWrong' },
  noSediment: { aspect: 'sediment' },
  specks: { aspect: 'sediment', alert: 'cloudy' },
  mucus: { aspect: 'sediment', alert: 'cloudy' },
  noBlood: { aspect: 'blood' },
  someBlood: { aspect: 'blood', alert: 'blood' },
  clots: { aspect: 'blood', alert: 'clots' },
  coffeeGrounds: { aspect: 'blood', alert: 'vomitBlood' },
} as const satisfies Record<string, LookKind>;

export type LookCode = keyof typeof looks;

/** True for a code that this version knows. */
export function isLookCode(code: string): code is LookCode {
  return Object.hasOwn(looks, code);
}

/** What several looks together tell the nurse, each once, in the order seen. */
export function alertsOfLooks(codes: readonly LookCode[]): AlertCode[] {
  const raised = codes.flatMap((code) => {
    const kind: LookKind = looks[code];
    return kind.alert === undefined ? [] : [kind.alert];
  });
  return [...new Set(raised)];
}
