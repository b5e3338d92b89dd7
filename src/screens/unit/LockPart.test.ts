import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, test } from 'vitest';
import type { UnitLock } from '../../app/lock/UnitLock.svelte.ts';
import type { Author } from '../../charting/events.ts';
import type { Secret } from '../../storage/vault/vault.ts';
import { lock as words } from '../../words/en-US/lock.ts';
import LockPart from './LockPart.svelte';

const setup: Author = { initials: 'BO', role: 'setup' };
const aide: Author = { initials: 'MK', role: 'aide' };
const { part } = words;

interface Wish {
  readonly kind?: UnitLock['kind'];
  readonly author?: Author;
  readonly roster?: readonly Author[];
  readonly promise?: 'granted' | 'refused' | 'unknown';
  readonly turnable?: boolean;
  /** Sealing goes on until somebody stops it. */
  readonly isSlow?: boolean;
}

function show({ kind = 'none', author = setup, promise = 'granted', ...more }: Wish = {}) {
  const done: unknown[] = [];
  const roster = more.roster ?? [aide, setup];
  const lock = {
    kind,
    recovered: false,
    idle: 5,
    turnable: more.turnable ?? true,
    mayChange: ({ role }: Author) => kind === 'none' || role === 'setup',
    persist: () => Promise.resolve({ promise, used: 2_000_000, quota: 50_000_000 }),
    members: () => Promise.resolve([setup]),
    notes: () => Promise.resolve([]),
    prepare: (secret: Secret) => {
      done.push(secret);
      return Promise.resolve({ code: 'K3QD-0000', put: () => Promise.resolve() });
    },
    putOn: (_: unknown, { signal }: { signal: AbortSignal }) => {
      if (more.isSlow !== true) {
        done.push('sealed');
        return Promise.resolve({ ok: true, value: undefined });
      }
      return new Promise((over) => {
        signal.addEventListener('abort', () => over({ ok: false, fault: 'storage_failed' }));
      });
    },
    takeOff: ({ signal }: { signal: AbortSignal }) => {
      if (more.isSlow === true) {
        return new Promise((over) => {
          signal.addEventListener('abort', () => over({ ok: false, fault: 'storage_failed' }));
        });
      }
      done.push('opened');
      return Promise.resolve({ ok: true, value: undefined });
    },
    setSecret: (secret: Secret) => {
      done.push(secret);
      return Promise.resolve();
    },
  } as unknown as UnitLock;
  render(LockPart, { lock, author, roster });
  const user = userEvent.setup();
  const press = (name: string) => user.click(screen.getByRole('button', { name }));
  const fill = async (label: string, text: string) => {
    await user.clear(screen.getByLabelText(label));
    await user.type(screen.getByLabelText(label), text);
  };
  /** Choose a PIN for each and make the first one. */
  const makePins = async (pin = '480271', again = pin) => {
    await user.click(screen.getByLabelText(part.kinds.pins));
    await fill(part.pin, pin);
    await fill(part.again, again);
    await press(part.make);
  };
  return { user, press, fill, makePins, done };
}

describe('When a unit has no lock', () => {
  test('the code is shown and written down before anything is sealed', async () => {
    const { user, press, makePins, done } = show();
    await makePins();
    expect(await screen.findByText('K3QD')).toBeVisible();
    expect(screen.getByRole('button', { name: part.code.seal })).toBeDisabled();
    await user.click(screen.getByLabelText(part.code.done));
    await press(part.code.seal);
    expect(done).toEqual([{ kind: 'pin', by: setup, pin: '480271' }, 'sealed']);
  });

  test('whoever does not want to wait stops it, and is told that nothing was done', async () => {
    const { user, press, makePins, done } = show({ isSlow: true });
    await makePins();
    await user.click(await screen.findByLabelText(part.code.done));
    await press(part.code.seal);
    await press(part.cancel);
    expect(await screen.findByRole('alert')).toHaveTextContent(part.stopped);
    expect(screen.queryByText('K3QD')).toBeNull();
    expect(done).toEqual([{ kind: 'pin', by: setup, pin: '480271' }]);
  });

  test.each([
    ['48027', '48027', part.faults.short],
    ['123456', '123456', part.faults.easy],
    ['480271', '480272', part.faults.different],
  ])('a PIN %s, then %s, is refused with a sentence', async (pin, again, sentence) => {
    const { makePins, done } = show();
    await makePins(pin, again);
    expect(screen.getByRole('alert')).toHaveTextContent(sentence);
    expect(done).toEqual([]);
  });

  test('nothing is sealed while a walk is on its way', async () => {
    const { user, press, fill, done } = show({ turnable: false });
    await user.click(screen.getByLabelText(part.kinds.unit));
    await fill(part.passcode, 'blue kettle');
    await fill(part.again, 'blue kettle');
    await press(part.make);
    await user.click(await screen.findByLabelText(part.code.done));
    await press(part.code.seal);
    expect(screen.getByRole('alert')).toHaveTextContent(part.busy);
    expect(done).toEqual([{ kind: 'unit', by: setup, pin: 'blue kettle' }]);
  });

  test('with nobody who sets the unit up it says what to do first', async () => {
    const { user } = show({ roster: [aide] });
    await user.click(screen.getByLabelText(part.kinds.pins));
    expect(screen.getByRole('alert')).toHaveTextContent(part.nobody);
  });

  test.each(['granted', 'refused', 'unknown'] as const)(
    'what the browser promised is said: %s',
    async (promise) => {
      show({ promise });
      expect(await screen.findByText(words.keeping[promise])).toBeVisible();
      expect(screen.getByText(words.keeping.room('2 MB', '50 MB'))).toBeVisible();
    },
  );
});

describe('When a unit has PINs', () => {
  test('whoever sets it up gives one, and takes the lock off only after a question', async () => {
    const { press, fill, done } = show({ kind: 'pins' });
    await screen.findByText(part.hasNot);
    await press(part.set('MK'));
    await fill(part.newPin('MK'), '135790');
    await fill(part.again, '135790');
    await press(part.save);
    expect(await screen.findByText(part.saved('MK'))).toBeVisible();
    expect(done).toEqual([{ kind: 'pin', by: aide, pin: '135790' }]);
    await press(part.off);
    expect(done).toHaveLength(1);
    await press(part.offYes);
    expect(done.at(-1)).toBe('opened');
  });

  test('whoever does not want to wait until it is off stops that, and the lock stays', async () => {
    const { press, done } = show({ kind: 'pins', isSlow: true });
    await press(part.off);
    await press(part.offYes);
    await press(part.cancel);
    expect(await screen.findByText(part.stoppedOff)).toBeVisible();
    expect(screen.queryByText(part.offSure)).toBeNull();
    expect(screen.getByRole('button', { name: part.off })).toBeVisible();
    expect(done).toEqual([]);
  });

  test('an aide sees only the own PIN', async () => {
    show({ kind: 'pins', author: aide });
    expect(await screen.findByRole('button', { name: part.set('MK') })).toBeVisible();
    expect(screen.queryByRole('button', { name: part.change('BO') })).toBeNull();
    expect(screen.queryByRole('button', { name: part.off })).toBeNull();
    expect(screen.getByText(part.setupOnly)).toBeVisible();
  });
});
