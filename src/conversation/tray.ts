import { intakeOf, intakeSum, type IntakeSum } from '../measure/intake.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { SaidVolume } from './said.ts';

/** What a tray comes to, measured and estimated apart, mL. */
export function traySum(servings: readonly SaidVolume[]): IntakeSum {
  const amounts = servings.flatMap(({ item }) => {
    const amount = item === undefined ? null : intakeOf(item.serving, item.said);
    return amount?.ok === true ? [amount] : [];
  });
  return intakeSum(amounts);
}

/** True for what was said of a tray, where amounts of two methods may stand side by side. */
export function isTray(fills: readonly SaidVolume[]): boolean {
  return fills.some(({ item }) => item !== undefined);
}

/** A serving and what was drunk of it, in words: "juice, half". */
export function servingText({ item }: SaidVolume, locale: Locale): string {
  if (item === undefined) return '';
  const { tray } = wordsFor(locale).walk;
  const { serving, said } = item;
  const drink = drinkName(serving.label);
  return 'left' in said ? tray.left(drink, said.left) : tray.drunk(drink, said.drunk);
}

/** The name of a serving as it is said: its label up to the vessel that it comes in. */
export function drinkName(label: string): string {
  return (label.split(',')[0] ?? label).toLowerCase();
}
