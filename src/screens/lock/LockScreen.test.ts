import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, test } from 'vitest';
import type { LockSession } from '../../app/lock/LockSession.svelte.ts';
import { lock as words } from '../../words/en-US/lock.ts';
import { errors } from '../../words/errors.ts';
import LockScreen from './LockScreen.svelte';

/** A lock that says what a test wants; what is tried is written down. */
function show(state: Partial<Pick<LockSession, 'kind' | 'refused' | 'trying' | 'wait'>> = {}) {
  const tries: (readonly [string | null, string])[] = [];
  const session = {
    kind: 'pins',
    refused: null,
    trying: false,
    wait: 0,
    ...state,
    try: (who: string | null, pin: string) => {
      tries.push([who, pin]);
      return Promise.resolve();
    },
  } as unknown as LockSession;
  render(LockScreen, { session });
  const key = (name: string) => screen.getByRole('button', { name });
  return { user: userEvent.setup(), tries, key };
}

describe('When the unit is locked', () => {
  test('initials and the keypad are enough, and the PIN does not stay', async () => {
    const { user, tries, key } = show();
    await user.type(screen.getByLabelText(words.initials), 'bo');
    for (const figure of '4802719') await user.click(key(figure));
    await user.click(key(words.rubOut));
    await user.click(key(words.open));
    expect(tries).toEqual([['BO', '480271']]);
    expect(screen.getByLabelText(words.pin)).toHaveValue('');
  });

  test('the keyboard alone is enough', async () => {
    const { user, tries } = show();
    expect(screen.getByLabelText(words.initials)).toHaveFocus();
    await user.keyboard('JP{Tab}135790{Enter}');
    expect(tries).toEqual([['JP', '135790']]);
  });

  test('figures typed beside the fields go into the PIN', async () => {
    const { user } = show();
    screen.getByLabelText<HTMLInputElement>(words.initials).blur();
    await user.keyboard('4805{Backspace}');
    expect(screen.getByLabelText(words.pin)).toHaveValue('480');
  });

  test('nothing can be tried without initials, or without a PIN', async () => {
    const { user, key } = show();
    expect(key(words.open)).toBeDisabled();
    await user.click(key('4'));
    expect(key(words.open)).toBeDisabled();
  });

  test('with one passcode for the unit nobody is asked for initials', async () => {
    const { user, tries } = show({ kind: 'unit' });
    expect(screen.queryByLabelText(words.initials)).toBeNull();
    await user.type(screen.getByLabelText(words.passcode), 'blue kettle{Enter}');
    expect(tries).toEqual([[null, 'blue kettle']]);
  });

  test.each([
    ['pin_wrong', words.wrong.pins],
    ['lock_broken', `${errors.lock_broken.title}. ${errors.lock_broken.todo}`],
    ['storage_closed', `${errors.storage_closed.title}. ${errors.storage_closed.todo}`],
  ] as const)('%s is said in a sentence', (refused, sentence) => {
    show({ refused });
    expect(screen.getByRole('alert')).toHaveTextContent(sentence);
  });

  test.each([
    [4, 'Too many wrong tries. Wait 4 s, then try again.'],
    [90, 'Too many wrong tries. Wait 2 min, then try again.'],
  ])('a wait of %i s is said, and nothing is taken meanwhile', (wait, sentence) => {
    const { key } = show({ wait, refused: 'pin_wrong' });
    expect(screen.getByRole('alert')).toHaveTextContent(sentence);
    expect(key('1')).toBeDisabled();
    expect(key(words.open)).toBeDisabled();
  });

  test('whoever forgot it finds both ways back', async () => {
    const { user, tries } = show();
    await user.click(screen.getByText(words.forgot.title));
    expect(screen.getByText(words.forgot.person)).toBeVisible();
    await user.type(screen.getByLabelText(words.forgot.label), 'k3qd-0000{Enter}');
    expect(tries).toEqual([[null, 'k3qd-0000']]);
  });
});
