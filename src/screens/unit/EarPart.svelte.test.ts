import { render, screen } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { expect, test, vi } from 'vitest';
import { fakeEngine, type RecognitionQuirks } from '../../../tests/support/fakeRecognition.ts';
import { defaultUnit } from '../../app/defaultUnit.ts';
import { engineOffer } from '../../app/engineOffer.ts';
import { speech } from '../../words/en-US/speech.ts';
import EarPart from './EarPart.svelte';
import { UnitDraft } from './UnitDraft.svelte.ts';

vi.setConfig({ testTimeout: 60_000 });

const draft = () =>
  new UnitDraft({
    kept: () => defaultUnit,
    keep: () => Promise.resolve({ ok: true, value: undefined }),
  });

async function show(quirks: RecognitionQuirks | null) {
  const browser = quirks === null ? undefined : fakeEngine(quirks).type;
  const offer = vi.fn(() => engineOffer(browser));
  render(EarPart, { draft: draft(), offer });
  await offer.mock.results[0]?.value;
  await Promise.resolve();
  return screen.queryByText(speech.install.offer);
}

test.each([
  ['has no engine', null],
  ['has one that promises nothing', { old: true }],
  ['has one that stays local already', { availability: 'available' }],
  ['says it can not', { availability: 'unavailable' }],
] as const)('When the browser %s, nothing is offered', async (_, quirks) => {
  expect(await show(quirks)).toBeNull();
});

test.each([
  // Seen in Chromium: downloadable for ever, whatever the installation answers.
  ['answers false', { availability: 'downloadable', installs: false }, 'refused'],
  ['answers true and changes nothing', { availability: 'downloadable', installs: true }, 'refused'],
] as const)('When the installation %s, it is said', async (_, quirks, outcome) => {
  const button = await show(quirks);
  if (button === null) throw new Error('nothing was offered');
  await userEvent.click(button);
  expect(await screen.findByText(speech.install[outcome])).toBeTruthy();
  expect(screen.queryByText(speech.install.offer)).toBeNull();
});

test('When the engine is there afterwards, it is said', async () => {
  const { type } = fakeEngine();
  let installed = false;
  const browser = Object.assign(type, {
    available: () =>
      Promise.resolve(installed ? ('available' as const) : ('downloadable' as const)),
    install: () => {
      installed = true;
      return Promise.resolve(true);
    },
  });
  const offer = vi.fn(() => engineOffer(browser));
  render(EarPart, { draft: draft(), offer });
  await userEvent.click(await screen.findByText(speech.install.offer));
  expect(await screen.findByText(speech.install.installed)).toBeTruthy();
});
