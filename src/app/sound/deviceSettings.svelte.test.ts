import { describe, expect, test } from 'vitest';
import { DeviceBook, usualDevice } from './deviceSettings.svelte.ts';

function shelf(text: string | null = null) {
  const held = { text };
  return {
    held,
    getItem: () => held.text,
    setItem: (_: string, value: string) => {
      held.text = value;
    },
  };
}

describe('When settings of the device are made', () => {
  test('they are in use at once and there again after a reload', () => {
    const kept = shelf();
    const book = new DeviceBook(() => kept);
    book.set({ rate: 0.8, quiet: true });
    book.set({ theme: 'night' });
    expect(book.current).toEqual({ ...usualDevice, rate: 0.8, quiet: true, theme: 'night' });
    expect(book.kept).toBe(true);
    expect(new DeviceBook(() => kept).current).toEqual(book.current);
  });

  test('slow speech is given more than twice the time', () => {
    const book = new DeviceBook(() => shelf());
    const usual = book.endSilence;
    book.set({ slow: true });
    expect(book.endSilence).toBeGreaterThan(2 * usual);
  });
});

describe('When the device keeps nothing, or something broken', () => {
  test.each([
    ['no text of ours', 'not json'],
    ['a volume beyond full', JSON.stringify({ volume: 7 })],
    ['an unknown theme', JSON.stringify({ theme: 'sepia' })],
    ['nothing', null],
  ])('%s: the usual settings are in use', (_, text) => {
    expect(new DeviceBook(() => shelf(text)).current).toEqual(usualDevice);
  });

  test('what is missing is as usual, and the rest stands', () => {
    const book = new DeviceBook(() => shelf(JSON.stringify({ volume: 0.5 })));
    expect(book.current).toEqual({ ...usualDevice, volume: 0.5 });
  });

  test.each([
    ['refuses', () => ({ getItem: () => null, setItem: refuse })],
    ['has no place', () => undefined],
    ['forbids it', refuse],
  ])('it %s: the setting is used and the refusal is told', (_, place) => {
    const book = new DeviceBook(place);
    book.set({ quiet: true });
    expect(book.current.quiet).toBe(true);
    expect(book.kept).toBe(false);
  });
});

function refuse(): never {
  throw new DOMException('', 'SecurityError');
}
