import 'fake-indexeddb/auto';
import { render, screen } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { choiceFor } from '../../app/choiceFor.ts';
import { Desk } from '../../app/Desk.svelte.ts';
import { openStores } from '../../app/storage.ts';
import { TypedEar } from '../../speech/typed/TypedEar.ts';
import { plainCipher } from '../../storage/cipher.ts';
import Bedside from './Bedside.svelte';

// Names and roles are reckoned slowly in jsdom; a busy machine takes its time.
vi.setConfig({ testTimeout: 120_000 });
const patient = { timeout: 20_000 };

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

/** The screen over a real desk; the voice is at its end at once, and the keyboard is the ear. */
async function show(
  procedureId = 'oral-intake',
  say: (text: string) => Promise<void> = () => Promise.resolve(),
) {
  const stores = await openStores('bedside', plainCipher, () => desk.rules());
  const desk: Desk = new Desk(stores, async () => ({
    ear: new TypedEar(),
    reason: 'unit_types',
    voice: { name: 'captions', say },
  }));
  await desk.open();
  const user = userEvent.setup();
  const { container } = render(Bedside, { desk });
  const begin = async () => {
    const procedure = desk.procedures.find(({ id }) => id === procedureId)!;
    await desk.begin(choiceFor(desk.unit, desk.unit.beds[3]!, procedure)!);
    await listening();
  };
  const listening = () =>
    vi.waitFor(() => {
      expect(container.querySelector('.lamp.listening, .lamp.held')).not.toBeNull();
    }, patient);
  const button = (text: string) => {
    const found = [...container.querySelectorAll('button')].find(
      (each) => each.textContent.trim() === text,
    );
    if (found === undefined) throw new Error(`no button ${text}`);
    return found;
  };
  const press = (text: string) => user.click(button(text));
  const type = async (...sentences: string[]) => {
    for (const words of sentences) {
      await listening();
      await user.type(screen.getByLabelText('Type what you would say'), words);
      await press('Say it');
    }
  };
  const step = () => desk.walk?.context.index ?? -1;
  return { desk, container, begin, button, press, type, step, listening };
}

describe('When a walk is on its way', () => {
  test('bed, procedure and the first step are shown', async () => {
    const { begin } = await show();
    await begin();
    expect(screen.getByText('Bed 4')).toBeVisible();
    expect(screen.getByText('Record what was drunk')).toBeVisible();
    expect(screen.getByText(/^Step 1 of /)).toBeVisible();
  });

  test('buttons do what the phrases do, and what is not taken now is off', async () => {
    const { begin, press, step, button } = await show();
    await begin();
    await press('Next');
    await vi.waitFor(() => {
      expect(step()).toBe(1);
    });
    await press('Hold on');
    await vi.waitFor(() => {
      expect(button('Carry on')).toBeEnabled();
    }, patient);
    expect(() => button('Next')).toThrow();
  });

  test('talk is shown as not for it, and moves nothing', async () => {
    const { begin, type, step } = await show();
    await begin();
    await type('would you like some juice');
    expect(await screen.findByText(/Not for me: “would you like some juice”/)).toBeVisible();
    expect(step()).toBe(0);
  });

  test('something is wrong: it holds, and what to tell is in view', async () => {
    const { begin, press, container } = await show();
    await begin();
    await press('Something is wrong');
    await vi.waitFor(() => {
      expect(container.querySelector('.lamp.held')).not.toBeNull();
    }, patient);
    expect(container.querySelector('.caption')).toHaveTextContent(/nurse/i);
  });
});

describe('When a number is read back', () => {
  test('it stands on the screen while the voice still speaks, and so does the next one', async () => {
    const speaking = new Set<() => void>();
    const slow = (text: string) =>
      text.includes('Correct?')
        ? new Promise<void>((ended) => speaking.add(ended))
        : Promise.resolve();
    const { container, desk, begin, type } = await show('urinal', slow);
    await begin();
    for (let turn = 0; turn < 30 && desk.walk?.view.current.matches('reading') !== true; turn++)
      await type('next step');
    const amount = () => container.querySelector('.number .amount');
    await type('three hundred');
    await vi.waitFor(() => {
      expect(amount()).toHaveTextContent('300 mL');
      expect(container.querySelector('.lamp.speaking')).not.toBeNull();
    }, patient);
    for (const end of speaking) end();
    await type('no', 'four hundred');
    await vi.waitFor(() => {
      expect(amount()).toHaveTextContent('400 mL');
      expect(container.querySelector('.lamp.speaking')).not.toBeNull();
    }, patient);
  });
});

describe('When a walk is over', () => {
  test('what was kept is shown with the way to the next resident', async () => {
    const { desk, container, begin, type, press } = await show();
    await begin();
    for (let turn = 0; turn < 20 && desk.walk?.view.current.matches('reading') !== true; turn++)
      await type('next step');
    await type('juice, half', 'correct', 'that is all', 'correct');
    const isOver = () => container.querySelector('main.done') !== null;
    const waits = () => container.querySelector('.lamp.listening') !== null;
    for (let turn = 0; turn < 20 && !isOver(); turn++) {
      await type('next step');
      await vi.waitFor(() => {
        expect(isOver() || waits()).toBe(true);
      }, patient);
    }
    expect(
      await screen.findByText('The entry waits for review.', undefined, patient),
    ).toBeVisible();
    expect(screen.getByText(/60 mL/, { selector: '.amount' })).toBeVisible();
    await press('Next resident');
    expect(await screen.findByText('Which bed, and what?')).toBeVisible();
  });

  test('one that was left unfinished is offered, and goes on where it was', async () => {
    const first = await show();
    await first.begin();
    await first.press('Next');
    await vi.waitFor(async () => {
      const kept = await first.desk.stores.states.take('walk');
      expect(kept).toMatchObject({ value: { snapshot: { context: { index: 1 } } } });
    });
    document.body.replaceChildren();
    const { desk, press } = await show();
    expect(await screen.findByText('Record what was drunk, Bed 4, is not finished.')).toBeVisible();
    await press('Go on where it was');
    await vi.waitFor(() => {
      expect(desk.walk?.context.index).toBe(1);
    });
  });
});
