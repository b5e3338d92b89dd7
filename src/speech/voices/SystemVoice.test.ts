import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { chooseVoice, voicesNamed } from './chooseVoice.ts';
import { captionsVoice } from './captionsVoice.ts';
import { localVoice, SystemVoice } from './SystemVoice.ts';

interface Told {
  onstart: (() => void) | null;
  onend: (() => void) | null;
  onerror: ((event: { error: string }) => void) | null;
  readonly text: string;
}

const voiceOf = (name: string, lang: string, localService: boolean, byDefault = false) =>
  ({ name, lang, localService, default: byDefault, voiceURI: name }) as SpeechSynthesisVoice;

/** The browser's queue under the test's hand. */
function fakeSynthesis(voices: SpeechSynthesisVoice[]) {
  const spoken: Told[] = [];
  const engine = Object.assign(new EventTarget(), {
    cancels: 0,
    getVoices: () => voices,
    speak: (utterance: unknown) => {
      spoken.push(utterance as Told);
    },
    cancel() {
      engine.cancels += 1;
    },
  });
  const utter = (text: string) =>
    ({ text, onstart: null, onend: null, onerror: null }) as unknown as SpeechSynthesisUtterance;
  return { engine, spoken, utter, voice: new SystemVoice({ engine, utter }) };
}

const local = voiceOf('Here', 'en-US', true);
const never = new AbortController().signal;
const soon = () => vi.advanceTimersByTimeAsync(0);

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('When a voice is chosen', () => {
  const remote = voiceOf('Away', 'en-US', false, true);
  const british = voiceOf('British', 'en-GB', true, true);
  it.each([
    ['the local one before the remote', [remote, local], 'Here'],
    ['the exact tongue before the default', [british, local], 'Here'],
    ['a sister tongue before none', [british], 'British'],
    ['an underscore for a hyphen', [voiceOf('Android', 'en_US', true)], 'Android'],
    ['none where all send the text away', [remote], undefined],
    ['none of another language', [voiceOf('Fr', 'fr-FR', true)], undefined],
  ])('takes %s', (_, voices, name) => {
    expect(localVoice(voices, 'en-US')?.name).toBe(name);
  });
});

describe('When the system voice speaks', () => {
  it('clears the queue first, and is done at the end of the words', async () => {
    const { voice, spoken, engine } = fakeSynthesis([local]);
    const saying = voice.say('Open the valve.', never);
    await soon();
    expect(engine.cancels).toBe(1);
    expect(spoken.map(({ text }) => text)).toEqual(['Open the valve.']);
    spoken[0]?.onend?.();
    await expect(saying).resolves.toBeUndefined();
  });

  it('speaks as loud and as fast as is set when it begins', async () => {
    const { engine, spoken, utter } = fakeSynthesis([local]);
    const manner = () => ({ volume: 0.4, rate: 1.5 });
    const saying = new SystemVoice({ engine, utter, manner }).say('Open the valve.', never);
    await soon();
    expect(spoken[0]).toMatchObject({ volume: 0.4, rate: 1.5 });
    spoken[0]?.onend?.();
    await saying;
  });

  it('says a long text in pieces, one after the other', async () => {
    const { voice, spoken } = fakeSynthesis([local]);
    const sentence = 'Hold the container below the bag and keep the tube off the rim.';
    const saying = voice.say(`${sentence} ${sentence} ${sentence}`, never);
    await soon();
    expect(spoken).toHaveLength(1);
    spoken[0]?.onend?.();
    await soon();
    expect(spoken).toHaveLength(2);
    spoken[1]?.onend?.();
    await saying;
    expect(spoken.map(({ text }) => text).join(' ')).toBe(`${sentence} ${sentence} ${sentence}`);
  });

  it('says two texts one after the other', async () => {
    const { voice, spoken } = fakeSynthesis([local]);
    const first = voice.say('One.', never);
    const second = voice.say('Two.', never);
    await soon();
    expect(spoken).toHaveLength(1);
    spoken[0]?.onend?.();
    await first;
    await soon();
    spoken[1]?.onend?.();
    await second;
    expect(spoken.map(({ text }) => text)).toEqual(['One.', 'Two.']);
  });

  it('stops at once when it is not wanted any more', async () => {
    const { voice, spoken, engine } = fakeSynthesis([local]);
    const stop = new AbortController();
    const saying = voice.say('A long explanation.', stop.signal);
    const refused = expect(saying).rejects.toMatchObject({ name: 'AbortError' });
    await soon();
    spoken[0]?.onstart?.();
    stop.abort();
    await refused;
    expect(engine.cancels).toBe(2);
  });

  it('fails where the engine fails, and where no voice stays on the device', async () => {
    const { voice, spoken } = fakeSynthesis([local]);
    const saying = voice.say('Open.', never);
    const refused = expect(saying).rejects.toThrow('synthesis-failed');
    await soon();
    spoken[0]?.onerror?.({ error: 'synthesis-failed' });
    await refused;
    await expect(fakeSynthesis([]).voice.say('Open.', never)).rejects.toThrow('no_local_voice');
  });
});

describe('When the end of an utterance is never told (Chromium 679437)', () => {
  it('goes on by itself, with the queue cleared', async () => {
    const { voice, spoken, engine } = fakeSynthesis([local]);
    const saying = voice.say('Open.', never);
    await soon();
    spoken[0]?.onstart?.();
    await vi.advanceTimersByTimeAsync(4_000 + 120 * 5);
    await expect(saying).resolves.toBeUndefined();
    expect(engine.cancels).toBe(2);
  });

  it('fails when the words never started either', async () => {
    const { voice } = fakeSynthesis([local]);
    const refused = expect(voice.say('Open.', never)).rejects.toThrow('voice_silent');
    await vi.advanceTimersByTimeAsync(4_000 + 120 * 5);
    await refused;
  });
});

describe('When the device is asked for a voice', () => {
  const bundled = { name: 'bundled', say: () => Promise.resolve() } as const;
  const settled = Promise.resolve();
  it.each([
    ['the system’s own', [local], bundled, 'system'],
    ['the bundled one', [], bundled, 'bundled'],
    ['captions', [], undefined, 'captions'],
  ])('gives %s', async (_, voices, own, name) => {
    const system = fakeSynthesis(voices).voice;
    const chosen = await chooseVoice({ system, bundled: own, captions: captionsVoice }, settled);
    expect(chosen.name).toBe(name);
  });

  it('waits for voices that are named late', async () => {
    const voices: SpeechSynthesisVoice[] = [];
    const { engine, voice } = fakeSynthesis(voices);
    const choosing = chooseVoice(
      { system: voice, bundled, captions: captionsVoice },
      voicesNamed(engine),
    );
    voices.push(local);
    engine.dispatchEvent(new Event('voiceschanged'));
    expect((await choosing).name).toBe('system');
  });

  it('does not wait for ever', async () => {
    const { engine, voice } = fakeSynthesis([]);
    const choosing = chooseVoice(
      { system: voice, bundled, captions: captionsVoice },
      voicesNamed(engine),
    );
    await vi.advanceTimersByTimeAsync(1_500);
    expect((await choosing).name).toBe('bundled');
  });

  it('says nothing by captions', async () => {
    await expect(captionsVoice.say('Open.', never)).rejects.toThrow('no_voice');
  });
});
