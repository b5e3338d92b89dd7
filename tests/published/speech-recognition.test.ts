import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  bundledRecognition,
  NO_SPEECH_LIMIT,
} from '../../src/speech/bundled/bundledRecognition.ts';
import { GrammarList } from '../../src/speech/bundled/grammarList.ts';
import type { FromWorker } from '../../src/speech/bundled/messages.ts';
import type {
  RecognitionErrorEvent,
  RecognitionResultEvent,
} from '../../src/speech/recognition.ts';
import { fakeBundled } from '../support/fakeEngineHost.ts';

// What web-platform-tests, folder speech-api, asks of any SpeechRecognition (the files of 2014 to
// 2024 whose names stand at each group), put to the bundled engine in our own words. Left out are
// the tests of prefixed and historical names, of frames and of insecure pages: an object of the page
// has none of these. The draft is that of the Web Speech API.

const types = [
  'start',
  'audiostart',
  'soundstart',
  'speechstart',
  'speechend',
  'soundend',
  'audioend',
  'result',
  'nomatch',
  'error',
  'end',
] as const;

function setUp(options: Parameters<typeof fakeBundled>[0] = {}) {
  const fake = fakeBundled(options);
  const Recognition = bundledRecognition(fake);
  const recognition = new Recognition();
  const events: Event[] = [];
  for (const type of types) recognition.addEventListener(type, (event) => events.push(event));
  const names = () => events.map(({ type }) => type);
  const results = () => events.filter(({ type }) => type === 'result') as RecognitionResultEvent[];
  const errors = () => events.filter(({ type }) => type === 'error') as RecognitionErrorEvent[];
  const settle = () => vi.advanceTimersByTimeAsync(0);
  const started = async () => {
    recognition.start();
    await settle();
    fake.tell({ type: 'sound' });
  };
  const hear = (...transcripts: string[]) => {
    const alternatives = transcripts.map((transcript) => ({ transcript, confidence: 0.9 }));
    const all: FromWorker[] = [
      { type: 'speechstart' },
      { type: 'speechend' },
      { type: 'heard', took: 1, text: transcripts[0] ?? '', alternatives },
    ];
    for (const message of all) fake.tell(message);
  };
  return { fake, Recognition, recognition, names, results, errors, settle, started, hear };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('When a recognition is made (SpeechRecognition.https.html)', () => {
  it('has the attributes of the draft with their defaults', () => {
    const { recognition } = setUp();
    expect(recognition).toMatchObject({
      lang: '',
      continuous: false,
      interimResults: false,
      maxAlternatives: 1,
      processLocally: false,
      phrases: [],
    });
    expect(recognition.grammars).toBeInstanceOf(GrammarList);
  });

  it('has the methods and an event handler for each event, null at first', () => {
    const { recognition } = setUp();
    for (const method of ['start', 'stop', 'abort'] as const) {
      expect(typeof recognition[method]).toBe('function');
    }
    for (const type of types) expect(recognition[`on${type}`]).toBeNull();
  });

  it('keeps what its attributes are set to', () => {
    const { recognition } = setUp();
    Object.assign(recognition, {
      lang: 'en-US',
      continuous: true,
      interimResults: true,
      maxAlternatives: 3,
    });
    expect(recognition).toMatchObject({
      lang: 'en-US',
      continuous: true,
      interimResults: true,
      maxAlternatives: 3,
    });
  });

  it('calls the handler as well as the listeners', async () => {
    const { recognition, started } = setUp();
    recognition.onstart = vi.fn();
    await started();
    expect(recognition.onstart).toHaveBeenCalledOnce();
  });
});

describe('When a recognition is aborted in silence (SpeechRecognition-abort-manual)', () => {
  it('gives one error, aborted, with a message that is a string, and nothing heard', async () => {
    const { recognition, names, errors, started } = setUp();
    await started();
    recognition.abort();
    expect(names()).toEqual(['start', 'audiostart', 'audioend', 'error', 'end']);
    expect(errors().map(({ error }) => error)).toEqual(['aborted']);
    expect(typeof errors()[0]?.message).toBe('string');
  });
});

describe('When a recognition is stopped in silence (SpeechRecognition-stop-manual)', () => {
  it('gives no error and no result', async () => {
    const { recognition, names, settle, started } = setUp();
    await started();
    recognition.stop();
    await settle();
    expect(names()).toEqual(['start', 'audiostart', 'audioend', 'end']);
  });
});

describe('When somebody speaks (SpeechRecognition-onresult-manual)', () => {
  it('gives the events in their order, each cycle begun and ended', async () => {
    const { names, started, hear } = setUp();
    await started();
    hear('next');
    expect(names()).toEqual([
      'start',
      'audiostart',
      'soundstart',
      'speechstart',
      'speechend',
      'soundend',
      'audioend',
      'result',
      'end',
    ]);
  });

  it.each([1, 2, 3])(
    'gives no more than %d alternatives where so many are wanted',
    async (most) => {
      const { recognition, results, started, hear } = setUp();
      recognition.maxAlternatives = most;
      await started();
      hear('three fifty', 'three fifteen', 'three sixty', 'nine fifty');
      expect(results()[0]?.results.item(0).length).toBe(most);
    },
  );

  it('gives one final result where it is not continuous', async () => {
    const { fake, results, started, hear } = setUp();
    await started();
    hear('next');
    hear('next');
    expect(results()).toHaveLength(1);
    expect(results()[0]?.results.item(0).isFinal).toBe(true);
    expect(fake.open()).toBe(0);
  });

  it('goes on where it is continuous, and points past every final result', async () => {
    const { recognition, results, started, hear } = setUp();
    recognition.continuous = true;
    await started();
    hear('next');
    hear('say again');
    expect(results().map(({ resultIndex }) => resultIndex)).toEqual([0, 1]);
    expect(results()[1]?.results).toHaveLength(2);
  });

  it('gives interim results only where they are wanted, and leaves none open at the end', async () => {
    const { fake, recognition, results, started, hear } = setUp();
    recognition.interimResults = true;
    await started();
    expect(fake.sent).toContainEqual(expect.objectContaining({ type: 'listen', interim: true }));
    fake.tell({ type: 'speechstart' });
    fake.tell({ type: 'partial', transcript: 'three' });
    hear('three fifty');
    expect(results().map(({ results: list }) => list.item(0).isFinal)).toEqual([false, true]);
    expect(results().at(-1)?.results).toHaveLength(1);
  });

  it('answers what fits nothing with nomatch: no hypothesis reached the threshold', async () => {
    const { names, started, hear } = setUp();
    await started();
    hear();
    expect(names().slice(-2)).toEqual(['nomatch', 'end']);
    expect(names()).not.toContain('result');
  });
});

describe('When nobody speaks (nospeech.html)', () => {
  it('gives the error no-speech and ends', async () => {
    const { names, errors, started } = setUp();
    await started();
    await vi.advanceTimersByTimeAsync(NO_SPEECH_LIMIT - 1);
    expect(errors()).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(errors().map(({ error }) => error)).toEqual(['no-speech']);
    expect(names().at(-1)).toBe('end');
  });
});

describe('When something is in the way (SpeechRecognition-onerror-manual and the draft)', () => {
  it.each([
    ['microphone_denied', 'not-allowed'],
    ['microphone_missing', 'audio-capture'],
    ['microphone_lost', 'audio-capture'],
    ['sound_suspended', 'audio-capture'],
  ] as const)('%s is %s, named in the message, and no start before it', async (refuses, code) => {
    const { recognition, names, errors, settle } = setUp({ refuses });
    recognition.start();
    await settle();
    expect(names()).toEqual(['error', 'end']);
    expect(errors()[0]).toMatchObject({ error: code, message: refuses });
  });

  it('a model that can not be loaded is service-not-allowed, and the microphone is given back', async () => {
    const { fake, recognition, errors, settle } = setUp({ loadFails: true });
    recognition.start();
    await settle();
    expect(errors()[0]?.error).toBe('service-not-allowed');
    expect(errors()[0]?.message).toMatch(/^engine_failed/);
    expect(fake.open()).toBe(0);
  });

  it('another tongue is language-not-supported', async () => {
    const { recognition, errors, settle } = setUp();
    recognition.lang = 'fr-FR';
    recognition.start();
    await settle();
    expect(errors()[0]?.error).toBe('language-not-supported');
  });

  it('phrases are phrases-not-supported: this engine takes grammars', async () => {
    const { recognition, errors, settle } = setUp();
    recognition.phrases = [{ phrase: 'next', boost: 1 }];
    recognition.start();
    await settle();
    expect(errors()[0]?.error).toBe('phrases-not-supported');
  });

  it('a plug pulled in the midst is audio-capture', async () => {
    const { fake, names, errors, started } = setUp();
    await started();
    fake.tell({ type: 'speechstart' });
    fake.lose('microphone_lost');
    expect(errors()[0]).toMatchObject({ error: 'audio-capture', message: 'microphone_lost' });
    expect(names().slice(-5)).toEqual(['speechend', 'soundend', 'audioend', 'error', 'end']);
  });

  it('a worker that breaks ends the session', async () => {
    const { fake, names, errors, started } = setUp();
    await started();
    fake.tell({ type: 'crashed' });
    expect(errors()[0]?.message).toBe('engine_failed');
    expect(names().at(-1)).toBe('end');
  });
});

describe('When start is called out of turn', () => {
  it('throws InvalidStateError while it runs', async () => {
    const { recognition, started } = setUp();
    await started();
    expect(() => {
      recognition.start();
    }).toThrow(expect.objectContaining({ name: 'InvalidStateError' }));
  });

  it('may start again after the end', async () => {
    const { recognition, names, settle, started } = setUp();
    await started();
    recognition.abort();
    recognition.start();
    await settle();
    expect(names().filter((name) => name === 'start')).toHaveLength(2);
  });

  it.each([
    ['video', 'live'],
    ['audio', 'ended'],
  ])('refuses a track of kind %s that is %s', (kind, readyState) => {
    const { recognition } = setUp();
    const track = { kind, readyState } as MediaStreamTrack;
    expect(() => {
      recognition.start(track);
    }).toThrow(expect.objectContaining({ name: 'InvalidStateError' }));
  });

  it('drops what arrives late for a session that is over', async () => {
    const { fake, recognition, names, started } = setUp();
    await started();
    recognition.abort();
    const before = names().length;
    fake.tell({ type: 'heard', took: 1, text: '', alternatives: [] });
    fake.tell({ type: 'speechstart' });
    expect(names()).toHaveLength(before);
  });
});

describe('When it is asked whether it can listen (static methods of the draft)', () => {
  it.each([
    [['en-US'], 'downloadable'],
    [['en'], 'downloadable'],
    [[], 'unavailable'],
    [['fr-FR'], 'unavailable'],
    // Of several languages the worst counts.
    [['en-US', 'fr-FR'], 'unavailable'],
  ])('answers for %o: %s', async (langs, answer) => {
    expect(await setUp().Recognition.available({ langs })).toBe(answer);
  });

  it('is available once it is installed', async () => {
    const { Recognition } = setUp();
    expect(await Recognition.install({ langs: ['en-US'] })).toBe(true);
    expect(await Recognition.available({ langs: ['en-US'] })).toBe('available');
  });

  it.each([[[]], [['fr-FR']]])('installs nothing for %o', async (langs) => {
    expect(await setUp().Recognition.install({ langs })).toBe(false);
  });

  it('says when the installation failed', async () => {
    const { Recognition } = setUp({ loadFails: true });
    expect(await Recognition.install({ langs: ['en-US'] })).toBe(false);
  });
});

describe('When a grammar is given (SpeechGrammarList of the older draft)', () => {
  const jsgf = '#JSGF V1.0; grammar g; public <g> = next | "say again" /2.5/ {tag};';

  it('keeps source and weight', () => {
    const list = new GrammarList();
    list.addFromString(jsgf, 0.5);
    expect(list.length).toBe(1);
    expect(list.item(0)?.weight).toBe(0.5);
    expect(list.item(0)?.src).toMatch(/^data:application\/jsgf/);
    expect(list.item(1)).toBeUndefined();
  });

  it('sends it before the first sound, and another one within the session', async () => {
    const { fake, recognition, started } = setUp();
    recognition.continuous = true;
    recognition.grammars.addFromString(jsgf);
    await started();
    const other = new GrammarList();
    other.addFromString('#JSGF V1.0; grammar h; public <h> = why;');
    recognition.grammars = other;
    expect(fake.sent.map(({ type }) => type)).toEqual(['expect', 'listen', 'expect']);
    expect(fake.sent[0]).toEqual({ type: 'expect', listening: { jsgf } });
  });
});
