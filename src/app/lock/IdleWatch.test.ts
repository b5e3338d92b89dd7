import { describe, expect, test } from 'vitest';
import { IdleWatch } from './IdleWatch.ts';

const minute = 60_000;

function watch() {
  let ms = 0;
  let gloved = false;
  let busy = false;
  let locks = 0;
  const idle = new IdleWatch({
    now: () => ms,
    limit: () => 5 * minute,
    gloved: () => gloved,
    busy: () => busy,
    lock: () => (locks += 1),
  });
  return {
    idle,
    locks: () => locks,
    glove: (now: boolean) => (gloved = now),
    become: (now: boolean) => (busy = now),
    /** The clock moves, and the watch looks. */
    pass: (by: number) => {
      ms += by;
      idle.check();
    },
    /** The clock moves while the tablet sleeps. */
    sleep: (by: number) => (ms += by),
  };
}

describe('When nobody does anything', () => {
  test('it locks at the limit, not a millisecond before, and once', () => {
    const { pass, locks } = watch();
    pass(5 * minute - 1);
    expect(locks()).toBe(0);
    pass(1);
    pass(minute);
    expect(locks()).toBe(1);
  });

  test('a touch begins the time anew', () => {
    const { idle, pass, locks } = watch();
    pass(4 * minute);
    idle.touch();
    pass(4 * minute);
    expect(locks()).toBe(0);
    pass(minute);
    expect(locks()).toBe(1);
  });

  test('with gloves on it never locks, and after them the whole time runs', () => {
    const { glove, pass, locks } = watch();
    glove(true);
    for (let n = 0; n < 100; n += 1) pass(minute);
    glove(false);
    pass(5 * minute - 1);
    expect(locks()).toBe(0);
    pass(1);
    expect(locks()).toBe(1);
  });

  test('while something is being kept it waits, and then locks without a new time', () => {
    const { become, pass, locks } = watch();
    become(true);
    pass(4 * minute);
    become(false);
    pass(minute - 1);
    expect(locks()).toBe(0);
    become(true);
    pass(minute);
    expect(locks()).toBe(0);
    become(false);
    pass(1);
    expect(locks()).toBe(1);
  });

  test('the tap that wakes a sleeping tablet finds it locked', () => {
    const { idle, sleep, locks } = watch();
    sleep(60 * minute);
    idle.touch();
    expect(locks()).toBe(1);
  });

  test('a clock that is set back does not keep it open', () => {
    const { pass, locks } = watch();
    pass(minute);
    pass(-60 * minute);
    pass(5 * minute);
    expect(locks()).toBe(1);
  });
});
