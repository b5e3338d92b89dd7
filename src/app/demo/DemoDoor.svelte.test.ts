import { describe, expect, test, vi } from 'vitest';
import type { Desk } from '../Desk.svelte.ts';
import { DemoDoor } from './DemoDoor.svelte.ts';

/** As much of a desk as the door touches. */
const deskOf = () => ({ leave: vi.fn() }) as unknown as Desk;

function doorWith(openWing: () => Promise<Desk>, resetWing = openWing) {
  let kept: string | null = null;
  const shelf = {
    getItem: () => kept,
    setItem: (_: string, value: string) => {
      kept = value;
    },
    removeItem: () => {
      kept = null;
    },
  };
  const load = vi.fn(() => Promise.resolve({ openWing, resetWing }));
  return { door: new DemoDoor({ shelf: () => shelf, load }), load };
}

describe('When the demo is entered', () => {
  test('its desk is in use until it is left', async () => {
    const desk = deskOf();
    const { door, load } = doorWith(() => Promise.resolve(desk));
    expect(door.desk).toBeNull();
    const entering = door.enter();
    expect(door.state).toBe('opening');
    await entering;
    await door.enter();
    expect(load).toHaveBeenCalledOnce();
    expect(door.desk).toBe(desk);
    expect(door.wasOpen).toBe(true);
    door.leave();
    expect(door.desk).toBeNull();
    expect(door.wasOpen).toBe(false);
  });

  test('begun anew, another desk takes its place', async () => {
    const other = deskOf();
    const { door } = doorWith(
      () => Promise.resolve(deskOf()),
      () => Promise.resolve(other),
    );
    await door.reset();
    expect(door.desk).toBeNull();
    await door.enter();
    await door.reset();
    expect(door.desk).toBe(other);
  });

  test('a wing that can not be made leaves the unit’s desk in use, and may be tried again', async () => {
    let fails = true;
    const { door } = doorWith(() =>
      fails ? Promise.reject(new Error('demo_unwritten')) : Promise.resolve(deskOf()),
    );
    await door.enter();
    expect(door.state).toBe('failed');
    expect(door.desk).toBeNull();
    expect(door.wasOpen).toBe(false);
    fails = false;
    await door.enter();
    expect(door.state).toBe('open');
  });

  test('a browser that keeps nothing for the tab lets one in all the same', async () => {
    const refuse = () => {
      throw new DOMException('', 'SecurityError');
    };
    const desk = deskOf();
    const room = { openWing: () => Promise.resolve(desk), resetWing: () => Promise.resolve(desk) };
    const door = new DemoDoor({ shelf: refuse, load: () => Promise.resolve(room) });
    expect(door.wasOpen).toBe(false);
    await door.enter();
    expect(door.desk).toBe(desk);
  });
});
