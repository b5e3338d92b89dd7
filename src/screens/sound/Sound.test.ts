import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { grammarFiles } from '../../../tests/support/grammarFiles.ts';
import { deviceSettings, usualDevice } from '../../app/sound/deviceSettings.svelte.ts';
import { createInterpreter } from '../../grammar/interpreter.ts';
import type { EarReason } from '../../speech/chooseEar.ts';
import type { Ear, EarSignal } from '../../speech/ear.ts';
import type { Voice } from '../../speech/voice.ts';
import { TypedEar } from '../../speech/typed/TypedEar.ts';
import { errors } from '../../words/errors.ts';
import { sound } from '../../words/en-US/sound.ts';
import { speech } from '../../words/en-US/speech.ts';
import Sound from './Sound.svelte';

vi.setConfig({ testTimeout: 60_000 });

const interpreter = createInterpreter(grammarFiles());

afterEach(() => {
  deviceSettings.set(usualDevice);
});

/** An ear that the test speaks for. */
function givenEar() {
  const told: { tell: (signal: EarSignal) => void; open: boolean } = {
    tell: () => undefined,
    open: false,
  };
  const ear: Ear = {
    name: 'bundled',
    open: (_, tell) => {
      told.tell = tell;
      told.open = true;
      tell({ type: 'ready' });
    },
    expect: () => undefined,
    close: () => {
      told.open = false;
    },
  };
  const hear = (transcript: string) => {
    const alternatives = [{ transcript, confidence: 0.9 }];
    told.tell({ type: 'heard', hearing: { ear: 'bundled', alternatives, fit: 'taken', at: 0 } });
  };
  return { ear, told, hear };
}

function page(ear: Ear, reason: EarReason = 'browser_promises_nothing') {
  const say = vi.fn(() => Promise.resolve());
  const voice: Voice = { name: 'system', say };
  const ready = () => Promise.resolve({ ear, reason, voice });
  render(Sound, { desk: { interpreter, ready, say } });
  return { user: userEvent.setup(), say };
}

test('While it is not known yet how the device listens, the page says so', () => {
  const say = vi.fn(() => Promise.resolve());
  render(Sound, { desk: { interpreter, ready: () => new Promise(() => undefined), say } });
  expect(screen.getByText(sound.check.finding)).toBeVisible();
});

const begin = async (user: ReturnType<typeof userEvent.setup>) => {
  await user.click(await screen.findByRole('button', { name: sound.check.start }));
};

describe('When the sound is checked', () => {
  test('it says which ear listens and where the sound goes, and passes by the test word', async () => {
    const { ear, told, hear } = givenEar();
    const { user, say } = page(ear);
    await screen.findByText(new RegExp(speech.reasons.browser_promises_nothing.slice(0, 30)));
    await begin(user);
    expect(say).toHaveBeenCalledWith(sound.check.ask, expect.anything());
    await screen.findByText(sound.check.say);
    told.tell({ type: 'level', level: 0.5 });
    await vi.waitFor(() => {
      expect(screen.getByRole('meter').getAttribute('aria-valuenow')).toBe('6');
    });
    hear('good morning');
    await screen.findByText(sound.check.heard('good morning'));
    hear('next step');
    await screen.findByText(sound.check.passed);
    expect(told.open).toBe(false);
    expect(screen.queryByRole('button', { name: sound.check.again })).not.toBeNull();
  });

  test('a microphone that is refused says what to do, and can be tried again', async () => {
    const { ear, told } = givenEar();
    const { user } = page({ ...ear, open: refuse });
    function refuse(_: unknown, tell: (signal: EarSignal) => void) {
      told.tell = tell;
      tell({ type: 'fault', fault: 'microphone_denied' });
    }
    await begin(user);
    const alert = await screen.findByRole('alert');
    expect(alert.textContent).toContain(errors.microphone_denied.todo);
    expect(screen.queryByRole('button', { name: sound.check.again })).not.toBeNull();
  });

  test('where words are typed there is nothing to check', async () => {
    page(new TypedEar(), 'unit_types');
    await screen.findByText(sound.check.typed);
    expect(screen.queryByRole('button', { name: sound.check.start })).toBeNull();
  });
});

describe('When voice and light are set', () => {
  test('quiet mode, slow speech and night are in use at once', async () => {
    const { user } = page(givenEar().ear);
    await user.click(screen.getByRole('checkbox', { name: /Quiet mode/ }));
    await user.click(screen.getByRole('checkbox', { name: /More time/ }));
    await user.click(screen.getByRole('radio', { name: 'Night' }));
    expect(deviceSettings.current).toMatchObject({ quiet: true, slow: true, theme: 'night' });
    expect(screen.getByRole('slider', { name: /Volume/ })).toHaveProperty('disabled', true);
  });

  test('the voice can be heard as it is set', async () => {
    const { user, say } = page(givenEar().ear);
    await user.click(screen.getByRole('button', { name: sound.voice.try }));
    expect(say).toHaveBeenCalledWith(sound.voice.sample, expect.anything());
    await screen.findByText(sound.voice.sample);
  });
});
