import { afterEach, expect, test } from 'vitest';
import { meaningOf, rackMark } from './keys.ts';

afterEach(() => document.body.replaceChildren());

function within(html: string): HTMLElement {
  const host = document.createElement('div');
  host.insertAdjacentHTML('beforeend', html);
  document.body.append(host);
  return host.querySelector<HTMLElement>('[data-target]')!;
}

const pressed = (key: string, target: EventTarget | null = null, held = {}) =>
  meaningOf({ key, ctrlKey: false, altKey: false, metaKey: false, target, ...held });

test.each([
  ['c', 'confirm'],
  ['a', 'amend'],
  ['s', 'strike'],
  ['u', 'undo'],
  ['h', 'history'],
  ['j', 'next'],
  ['k', 'previous'],
  ['x', 'choose'],
  ['ArrowRight', 'next'],
  ['ArrowLeft', 'previous'],
  ['q', null],
])('%s means %s', (key, meaning) => {
  expect(pressed(key)).toBe(meaning);
});

test.each(['ctrlKey', 'altKey', 'metaKey'])('with %s held it is the browser’s', (held) => {
  expect(pressed('c', null, { [held]: true })).toBeNull();
});

test.each([
  ['<textarea data-target></textarea>', null],
  ['<input data-target>', null],
  ['<input type="date" data-target>', null],
  ['<select data-target></select>', null],
  ['<button data-target></button>', 'confirm'],
  ['<input type="checkbox" data-target>', 'confirm'],
  ['<input type="radio" data-target>', 'confirm'],
])('c in %s means %s', (html, meaning) => {
  expect(pressed('c', within(html))).toBe(meaning);
});

test('up and down move only in the rack, and radio buttons keep their arrows', () => {
  const button = '<button data-target></button>';
  expect(pressed('ArrowDown', within(button))).toBeNull();
  document.body.replaceChildren();
  expect(pressed('ArrowDown', within(`<ol ${rackMark}>${button}</ol>`))).toBe('next');
  document.body.replaceChildren();
  expect(pressed('ArrowRight', within('<input type="radio" data-target>'))).toBeNull();
});
