import 'fake-indexeddb/auto';
import { render, screen, within } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, onTestFinished, test, vi } from 'vitest';
import { Desk } from '../../app/Desk.svelte.ts';
import { openStores } from '../../app/storage.ts';
import { TypedEar } from '../../speech/typed/TypedEar.ts';
import { plainCipher } from '../../storage/cipher.ts';
import Practice from './Practice.svelte';

// Names and roles are reckoned slowly in jsdom; a busy machine takes its time.
vi.setConfig({ testTimeout: 120_000 });
const patient = { timeout: 20_000 };

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

/** The page over the real desk; the voice is at its end at once, and the keyboard is the ear. */
async function show() {
  const stores = await openStores('practice', plainCipher, () => desk.rules());
  const desk: Desk = new Desk(stores, async () => ({
    ear: new TypedEar(),
    reason: 'unit_types',
    voice: { name: 'captions', say: () => Promise.resolve() },
  }));
  await desk.open();
  const user = userEvent.setup();
  const { container, unmount } = render(Practice, { desk });
  const press = async (text: string) => {
    const found = [...container.querySelectorAll('button')].find(
      (button) => button.textContent.trim() === text,
    );
    if (found === undefined) throw new Error(`no button ${text}`);
    await user.click(found);
  };
  const choose = (title: string) => user.click(screen.getByText(title));
  const begin = () => press('Open the ear and begin');
  const type = async (words: string) => {
    await vi.waitFor(() => {
      expect(container.querySelector('.lamp.listening')).not.toBeNull();
    }, patient);
    await user.type(screen.getByLabelText('Type what you would say'), words);
    await press('Say it');
  };
  const see = (text: string | RegExp) => screen.findByText(text, undefined, patient);
  return { desk, container, user, unmount, press, choose, begin, type, see };
}

describe('When practice is opened', () => {
  test('it says that it keeps no record and certifies nothing', async () => {
    const { see } = await show();
    expect(await see(/stays out of the unit’s charting/)).toBeVisible();
    expect(await see(/It certifies nothing/)).toBeVisible();
  });

  test('a walk with a resident comes first', async () => {
    const { desk, see } = await show();
    const [bed, procedure] = [desk.unit.beds[0]!, desk.procedures[0]!];
    await desk.begin({ bed, procedure, container: desk.unit.containers[0]!, bag: null });
    expect(await see(/Finish it first/)).toBeVisible();
    desk.leave();
  });
});

describe('When guided practice is under way', () => {
  test('why shows the reason with its sources and how sure they are', async () => {
    const { begin, see, type } = await show();
    await begin();
    await see('Step 1 of 24');
    await type('why');
    const sources = await screen.findByRole('list', { name: 'Source' }, patient);
    expect(within(sources).getByText(/WHO guidelines on hand hygiene/)).toHaveTextContent(
      '(text read)',
    );
    await type('next');
    await see('Step 2 of 24');
    expect(screen.queryByRole('list', { name: 'Source' })).toBeNull();
  });

  test('leaving the page shuts the ear', async () => {
    const { desk, begin, see, unmount } = await show();
    await begin();
    await see('Step 1 of 24');
    const { ear } = await desk.ready();
    unmount();
    expect(ear instanceof TypedEar && ear.type('next')).toBe(false);
  });
});

describe('When steps are recalled', () => {
  test('no call is on the page before it was named, the list to choose from shut', async () => {
    const { desk, choose, begin, see } = await show();
    await choose('Recall');
    await begin();
    await see('Step 1 of 24: what comes next?');
    const { call } = desk.procedures[0]!.steps[0]!;
    expect(screen.queryByText(call, { ignore: 'details *' })).toBeNull();
    expect(screen.getByText(/I can not say it/).closest('details')).not.toHaveAttribute('open');
  });

  test('missed, out of order and critical are told apart, and the attempt is kept', async () => {
    const { choose, begin, type, press, see, container } = await show();
    await choose('Recall');
    await begin();
    await type('put my gloves on');
    await see('Comes later');
    await type('wash my hands');
    await see('Right');
    await type('tell me');
    await type('hello there');
    await see('No step found');
    await press('Stop practice');
    await see('Kept on this device, for practice only.');
    const page = container.textContent.replace(/\s+/g, ' ');
    expect(page).toMatch(/1 of 24 Said in their turn/);
    expect(page).toMatch(/2 steps that must not be missed were missed or passed over: Clean your/);
    expect(page).toMatch(/Had to be told Tell the resident/);
    expect(page).toMatch(
      /“Put on clean gloves\.” was said when this was due: “Clean your hands\.”/,
    );
    expect(page).toMatch(/22 steps were not reached/);
  });
});

describe('When a level is read', () => {
  test('neither picture nor page tells it before it was said and agreed to', async () => {
    const { choose, begin, type, see, container } = await show();
    await choose('Reading drill');
    await userEvent.type(screen.getByLabelText(/^Seed/), '4711');
    await begin();
    await see('Level 1 of 6');
    const picture = screen.getByRole('img');
    expect(picture).toHaveAccessibleName(/drawn with a level for you to read/);
    await type('three hundred');
    await see('To be agreed to');
    expect(picture).toHaveAccessibleName(/drawn with a level for you to read/);
    await type('correct');
    await see('More than 25 mL off');
    expect(picture).toHaveAccessibleName(/level at 150 mL/);
    expect(container.querySelector('dl')).toHaveTextContent('You said 300 mL The line 150 mL');
    expect(await see('Seed 4711')).toBeVisible();
  });
});

describe('When attempts are looked back on', () => {
  test('they stand in a table that prints and says that it is no certificate', async () => {
    const { begin, press, see, type } = await show();
    await begin();
    await type('next');
    await press('Stop practice');
    await see('Kept on this device, for practice only.');
    await press('Attempts so far');
    expect(await see(/It is no certificate/)).toBeVisible();
    expect(screen.getByRole('row', { name: /Guided: Empty a urinary drainage bag/ })).toBeVisible();
    const print = vi.fn();
    vi.stubGlobal('print', print);
    onTestFinished(() => {
      vi.unstubAllGlobals();
    });
    await press('Print this page');
    expect(print).toHaveBeenCalledOnce();
  });

  test('another person sees their own', async () => {
    const { desk, begin, press, see, type } = await show();
    await begin();
    await type('next');
    await press('Stop practice');
    await see('Kept on this device, for practice only.');
    desk.author = { initials: 'TS', role: 'aide' };
    await press('Attempts so far');
    expect(await see(/No attempt yet/)).toBeVisible();
  });
});

describe('When the device can not keep the attempt', () => {
  test('it says so, shows the result, and lets the trainee go on', async () => {
    const { desk, begin, press, see, type } = await show();
    vi.spyOn(desk.stores.states, 'put').mockResolvedValue({ ok: false, fault: 'storage_failed' });
    await begin();
    await type('next');
    await press('Stop practice');
    expect(await see('This device can not keep the result. I try again.')).toBeVisible();
    expect(await see('1 of 24 steps heard.')).toBeVisible();
    await press('Go on without keeping it');
    expect(screen.queryByText(/can not keep the result/)).toBeNull();
  });
});
