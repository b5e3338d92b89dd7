import { describe, expect, it, vi } from 'vitest';
import { BundledVoice, type Play } from './BundledVoice.ts';
import { sentencesOf } from './sentences.ts';

const wave = { samples: new Float32Array(16), rate: 16_000 };
const never = new AbortController().signal;
const played: Play = () => Promise.resolve();

describe('When the bundled voice speaks', () => {
  it('makes each phrase once and plays it every time', async () => {
    const synthesise = vi.fn(() => Promise.resolve(wave));
    const play = vi.fn(played);
    const voice = new BundledVoice(synthesise, play);
    await voice.say('Open the valve.', never);
    await voice.say('Open the valve.', never);
    expect(synthesise).toHaveBeenCalledOnce();
    expect(play).toHaveBeenCalledTimes(2);
  });

  it('makes a phrase ready ahead of time', async () => {
    const synthesise = vi.fn(() => Promise.resolve(wave));
    const voice = new BundledVoice(synthesise, played);
    await voice.prepare('Open the valve.');
    await voice.say('Open the valve.', never);
    expect(synthesise).toHaveBeenCalledOnce();
  });

  it('forgets the phrase that was not used for longest', async () => {
    const synthesise = vi.fn((text: string) => Promise.resolve({ ...wave, rate: text.length }));
    const voice = new BundledVoice(synthesise, played);
    await voice.say('first', never);
    for (let index = 0; index < 80; index += 1) await voice.say(`phrase ${index}`, never);
    await voice.say('first', never);
    expect(synthesise).toHaveBeenCalledTimes(82);
  });

  it('makes a phrase anew at another speed, and plays it as loud as is set', async () => {
    const synthesise = vi.fn(() => Promise.resolve(wave));
    const play = vi.fn(played);
    let manner = { volume: 0.5, rate: 1 };
    const voice = new BundledVoice(synthesise, play, () => manner);
    await voice.say('Open the valve.', never);
    manner = { volume: 0.5, rate: 0.8 };
    await voice.say('Open the valve.', never);
    expect(synthesise.mock.calls).toEqual([
      ['Open the valve.', 1],
      ['Open the valve.', 1.25],
    ]);
    expect(play).toHaveBeenLastCalledWith(wave, never, 0.5);
  });

  it('does not keep a failure', async () => {
    const synthesise = vi.fn(() => Promise.resolve(wave));
    synthesise.mockRejectedValueOnce(new Error('voice_missing'));
    const voice = new BundledVoice(synthesise, played);
    await expect(voice.say('Open.', never)).rejects.toThrow('voice_missing');
    await expect(voice.say('Open.', never)).resolves.toBeUndefined();
  });

  it('plays nothing that is not wanted any more', async () => {
    const play = vi.fn(played);
    const voice = new BundledVoice(() => Promise.resolve(wave), play);
    await expect(voice.say('Open.', AbortSignal.abort())).rejects.toMatchObject({
      name: 'AbortError',
    });
    expect(play).not.toHaveBeenCalled();
  });
});

describe('When a text is cut into sentences', () => {
  const sentence = 'Hold the container below the bag and keep the tube off the rim.';
  it.each([
    ['', []],
    ['Short. Both stay together.', ['Short. Both stay together.']],
    [`${sentence} ${sentence} ${sentence}`, [`${sentence} ${sentence}`, sentence]],
  ])('%#: gives pieces that are short enough', (text, pieces) => {
    expect(sentencesOf(text)).toEqual(pieces);
  });
});
