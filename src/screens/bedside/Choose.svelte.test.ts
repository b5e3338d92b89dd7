import 'fake-indexeddb/auto';
import { render, screen } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { IDBFactory } from 'fake-indexeddb';
import { tick } from 'svelte';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { loadedBy } from '../../../tests/support/fakeEngineHost.ts';
import { draftFact } from '../../../tests/support/ledgerStory.ts';
import { Desk } from '../../app/Desk.svelte.ts';
import type { Choice } from '../../app/choiceFor.ts';
import { earLoading } from '../../app/earLoading.svelte.ts';
import { openStores } from '../../app/storage.ts';
import type { Fact } from '../../charting/events.ts';
import type { FluidKind } from '../../measure/fluid.ts';
import type { Ear } from '../../speech/ear.ts';
import { TypedEar } from '../../speech/typed/TypedEar.ts';
import { plainCipher } from '../../storage/cipher.ts';
import { speech } from '../../words/en-US/speech.ts';
import Choose from './Choose.svelte';

// Names and roles are reckoned slowly in jsdom; a busy machine takes its time.
vi.setConfig({ testTimeout: 120_000 });

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

const silentEar = {
  open: () => undefined,
  expect: () => undefined,
  close: () => undefined,
};

/** The screen over a real desk and a disk in memory, as somebody who opens the page finds it. */
async function open(facts: readonly Fact[] = [], ear: Ear = new TypedEar()) {
  const stores = await openStores('choose', plainCipher, () => desk.rules());
  const desk: Desk = new Desk(stores, async () => ({
    ear,
    reason: 'unit_types',
    voice: { name: 'captions', say: () => Promise.resolve() },
  }));
  await desk.open();
  if (facts.length > 0) await desk.write({ initials: 'MK', role: 'aide' }, facts);
  const begun: Choice[] = [];
  const user = userEvent.setup();
  const { container, unmount } = render(Choose, {
    desk,
    onbegin: (choice: Choice) => begun.push(choice),
  });
  const pick = (name: string) => user.click(screen.getByLabelText(name));
  const vessel = (name: string) => screen.getByLabelText<HTMLSelectElement>(name);
  return { desk, begun, user, container, unmount, pick, vessel };
}

describe('When the ear is still on its way', () => {
  test('how much of it has come is shown, until it is there, and nothing waits for it', async () => {
    let arrive: () => void = () => undefined;
    const over = earLoading.of(loadedBy(new Promise<void>((done) => (arrive = done))));
    const { pick } = await open([], { ...silentEar, name: 'bundled' });
    const bar = await screen.findByRole<HTMLProgressElement>('progressbar');
    earLoading.share = 0.25;
    await tick();
    expect(bar.value).toBe(0.25);
    await pick('Bed 4');
    await pick('Empty a urinary drainage bag');
    expect(screen.getByText('Open the ear and begin')).toBeEnabled();
    arrive();
    await over;
    await tick();
    expect(screen.queryByRole('progressbar')).toBeNull();
  });

  test('it can be stopped and loaded after all', async () => {
    const loads: { readonly arrive: () => void; readonly fail: () => void }[] = [];
    const load = () =>
      new Promise<void>((arrive, fail) => loads.push({ arrive, fail: () => fail(new Error()) }));
    const over = earLoading.of({ load, stop: () => loads.at(-1)?.fail() });
    const { user } = await open([], { ...silentEar, name: 'bundled' });
    await user.click(await screen.findByRole('button', { name: 'Stop loading' }));
    expect(await screen.findByText(/The ear is not loaded/)).toBeVisible();
    expect(screen.queryByRole('progressbar')).toBeNull();
    expect(loads).toHaveLength(1);
    await user.click(screen.getByRole('button', { name: 'Load the ear now' }));
    expect(await screen.findByRole('progressbar')).toBeVisible();
    expect(loads).toHaveLength(2);
    loads.at(-1)?.arrive();
    await over;
    await tick();
    expect(screen.queryByText(/The ear is/)).toBeNull();
  });

  test('whoever types instead is not told of it', async () => {
    let arrive: () => void = () => undefined;
    const over = earLoading.of(loadedBy(new Promise<void>((done) => (arrive = done))));
    await open();
    expect(await screen.findByText(speech.reasons.unit_types)).toBeVisible();
    expect(screen.queryByRole('progressbar')).toBeNull();
    arrive();
    await over;
  });
});

describe('When somebody chooses with clean hands', () => {
  test('nothing begins before bed and procedure are chosen', async () => {
    const { pick } = await open();
    const begin = screen.getByText('Open the ear and begin');
    const why = 'Choose a bed and a procedure first.';
    expect(begin).toBeDisabled();
    await pick('Bed 4');
    expect(begin).toBeDisabled();
    expect(screen.getByText(why)).toBeVisible();
    await pick('Empty a urinary drainage bag');
    expect(begin).toBeEnabled();
    expect(screen.queryByText(why)).toBeNull();
  });

  test('two taps and one more begin, with what the bed was set up with', async () => {
    const { begun, pick, user } = await open();
    await pick('Bed 4');
    await pick('Empty a urinary drainage bag');
    await user.click(screen.getByText('Open the ear and begin'));
    expect(begun).toMatchObject([
      {
        bed: { id: 'bed-4' },
        procedure: { id: 'drainage-bag' },
        container: { id: 'graduate-1000-25' },
        bag: { id: 'bedside-2000' },
      },
    ]);
  });

  test('a container picked for one bed is not carried to the next', async () => {
    const { pick, vessel, user } = await open();
    await pick('Bed 4');
    await pick('Empty a urinary drainage bag');
    await user.selectOptions(vessel('Container'), 'graduate-500-50');
    expect(vessel('Container')).toHaveValue('graduate-500-50');
    await pick('Bed 5');
    expect(vessel('Container')).toHaveValue('graduate-1000-25');
  });
});

describe('When somebody looks from bed to bed', () => {
  const readAgo = (hours: number, kind: FluidKind) => {
    const readAt = { ms: Date.now() - hours * 3_600_000, offset: 0 };
    return draftFact({ entry: crypto.randomUUID(), bed: 'Bed 4', kind, readAt });
  };
  const glanceAt = (name: string) =>
    screen.getByLabelText(name).closest('label')?.querySelector('small');

  test('each kind is shown with its hours, and what is due says so', async () => {
    await open([readAgo(9, 'urineVoided'), readAgo(2, 'ostomy')]);
    await vi.waitFor(() => {
      const lines = [...(glanceAt('Bed 4')?.children ?? [])].map(({ textContent }) => textContent);
      expect(lines).toEqual(['voided 9 h 0 min ago: due', 'pouch emptied 2 h 0 min ago']);
    });
    expect(glanceAt('Bed 5')).toHaveTextContent('nothing in two days');
  });

  test('a bed whose record can not be read says nothing', async () => {
    const { desk } = await open();
    await vi.waitFor(() => {
      expect(glanceAt('Bed 5')).toHaveTextContent('nothing in two days');
    });
    desk.stores.ledger.groups = () => Promise.resolve({ ok: false, fault: 'storage_failed' });
    await desk.glance.refresh(['Bed 5']);
    await vi.waitFor(() => {
      expect(glanceAt('Bed 5')).toHaveTextContent(/^$/);
    });
  });
});

describe('When a walk was begun at a bed with something else', () => {
  test.each([
    ['Container', 'Empty a urinary drainage bag', 'graduate-500-50', 'graduate-1000-25'],
    ['Product that is weighed', 'Weigh a wet pad', 'bed-pad', 'pad-small'],
    ['Bag on the bed', 'Empty a leg bag', 'leg-750', 'leg-500'],
  ])('%s is offered again after a reload, at this bed only', async (label, title, id, other) => {
    const first = await open();
    await first.pick('Bed 4');
    await first.pick(title);
    await first.user.selectOptions(first.vessel(label), id);
    await first.user.click(screen.getByText('Open the ear and begin'));
    await first.desk.begin(first.begun[0]!);
    first.desk.leave();
    await vi.waitFor(async () => {
      expect(await first.desk.stores.states.take('picks')).toMatchObject({
        value: { 'bed-4': {} },
      });
    });
    first.unmount();

    const { pick, vessel } = await open();
    await pick('Bed 4');
    await pick(title);
    expect(vessel(label)).toHaveValue(id);
    await pick('Bed 5');
    expect(vessel(label)).toHaveValue(other);
  });

  test('a bed set up anew starts from its new container', async () => {
    const { desk, pick, vessel, user, begun } = await open();
    await pick('Bed 4');
    await pick('Empty a urinary drainage bag');
    await user.selectOptions(vessel('Container'), 'graduate-500-50');
    await user.click(screen.getByText('Open the ear and begin'));
    await desk.begin(begun[0]!);
    desk.leave();
    const beds = desk.unit.beds.map((bed) =>
      bed.id === 'bed-4' ? { ...bed, container: 'graduate-1000-100' } : bed,
    );
    expect((await desk.set({ ...desk.unit, beds })).ok).toBe(true);
    await vi.waitFor(() => {
      expect(vessel('Container')).toHaveValue('graduate-1000-100');
    });
  });
});
