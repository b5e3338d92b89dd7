import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { fakeEngine, type RecognitionQuirks } from '../../../tests/support/fakeRecognition.ts';
import type { Expectation } from '../../grammar/expectation.ts';
import { chooseEar, installLocalEngine } from '../chooseEar.ts';
import type { EarSignal } from '../ear.ts';
import { RecognitionEar } from '../recognitionEar.ts';
import { browserEngine } from './browserEngine.ts';

// Quirks are numbered as the public bug threads name them; see each test. None can be made to
// happen in a headless browser, so the fake behaves so.

const step: Expectation = { state: 'step' };
const meanings: Readonly<Record<string, string>> = {
  'three fifty': '350',
  '3:50': '350',
  'three fifteen': '315',
  next: 'next',
};
const grammar = {
  phrasesOf: ({ state }: Expectation) => [
    { phrase: 'next', boost: 4 },
    { phrase: state === 'step' ? 'three fifty' : 'carry on', boost: 3 },
  ],
  meaningOf: (transcript: string) => meanings[transcript] ?? null,
};

function setUp(quirks: RecognitionQuirks = {}, remote = false) {
  const engine = fakeEngine(quirks);
  const told: EarSignal[] = [];
  const parts = {
    type: engine.type,
    grammar,
    remote,
    makePhrase: (phrase: string, boost: number) => ({ phrase, boost }),
  };
  const ear = new RecognitionEar(browserEngine(parts));
  const open = async () => {
    ear.open(step, (signal) => told.push(signal));
    await vi.advanceTimersByTimeAsync(0);
  };
  const fits = () =>
    told.filter((signal) => signal.type === 'heard').map(({ hearing }) => hearing.fit);
  return { engine, ear, told, open, fits };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('When results arrive after the session was stopped (WebKit 252936)', () => {
  it('drops them', async () => {
    const { engine, ear, told, open } = setUp({ ignoresStop: true });
    await open();
    ear.close();
    const before = told.length;
    engine.last().hear([['next', 0.9]]);
    engine.last().finish();
    expect(told).toHaveLength(before);
  });

  it('does not take them for the next session either', async () => {
    const { engine, ear, open, fits } = setUp({ ignoresStop: true });
    await open();
    ear.close();
    await open();
    engine.made[0]?.hear([['next', 0.9]]);
    expect(fits()).toEqual([]);
    engine.made[1]?.hear([['next', 0.9]]);
    expect(fits()).toEqual(['taken']);
  });
});

describe('When a final result comes only after stop (iOS)', () => {
  it('takes the last interim one after a quiet time, and ends the session', async () => {
    const { engine, told, open, fits } = setUp();
    await open();
    engine.last().hear([['three', 0.5]], false);
    await vi.advanceTimersByTimeAsync(1_100);
    engine.last().hear([['three fifty', 0.5]], false);
    await vi.advanceTimersByTimeAsync(1_199);
    expect(fits()).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(fits()).toEqual(['taken']);
    expect(told.at(-1)).toEqual({ type: 'ended' });
    expect(engine.last().running).toBe(false);
  });

  it('says nothing twice when the final one comes in time', async () => {
    const { engine, open, fits } = setUp();
    await open();
    engine.last().hear([['three', 0.5]], false);
    engine.last().hear([['three fifty', 0.5]]);
    await vi.advanceTimersByTimeAsync(5_000);
    expect(fits()).toEqual(['taken']);
  });
});

describe('When continuous has no effect and every utterance ends the session (Chrome on Android)', () => {
  it('tells the end, so that the supervision opens again', async () => {
    const { engine, told, open, fits } = setUp({ old: true }, true);
    await open();
    engine.last().hear([['next', 0.9]]);
    engine.last().finish();
    expect(fits()).toEqual(['taken']);
    expect(told.at(-1)).toEqual({ type: 'ended' });
  });
});

describe('When the microphone stops as the page is hidden (WebKit 226620, Chromium 374374232)', () => {
  it('names the lost microphone', async () => {
    const { engine, told, open } = setUp();
    await open();
    engine.last().fail('audio-capture');
    expect(told.at(-1)).toEqual({ type: 'fault', fault: 'microphone_lost' });
  });
});

describe('When an engine never starts', () => {
  it('says so after six seconds', async () => {
    const { told, open } = setUp({ neverStarts: true });
    await open();
    await vi.advanceTimersByTimeAsync(5_999);
    expect(told).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(told).toEqual([{ type: 'fault', fault: 'engine_silent' }]);
  });
});

describe('When the browser takes phrases', () => {
  const given = (phrase: string) => [
    { phrase: 'next', boost: 4 },
    { phrase, boost: 3 },
  ];

  it('gets those of the grammar with their boosts, and others when something else is expected', async () => {
    const { engine, ear, open } = setUp();
    await open();
    expect(engine.last().phrases).toEqual(given('three fifty'));
    ear.expect({ state: 'held' });
    expect(engine.last().phrases).toEqual(given('carry on'));
  });

  it('gets none where it does not know them', async () => {
    const { engine, open } = setUp({ old: true }, true);
    await open();
    expect(engine.last().phrases).toBeUndefined();
    expect(engine.last().running).toBe(true);
  });
});

describe('When phrases are refused, the error twice (Chromium)', () => {
  it('starts again without them, once', async () => {
    const { engine, told, open } = setUp({ refusesPhrases: true });
    await open();
    await vi.advanceTimersByTimeAsync(0);
    expect(engine.last().starts).toBe(2);
    expect(engine.last().phrases).toEqual([]);
    expect(told).toEqual([{ type: 'ready' }]);
  });

  it('does not try them again in the next session', async () => {
    const { engine, ear, open } = setUp({ refusesPhrases: true });
    await open();
    await vi.advanceTimersByTimeAsync(0);
    ear.close();
    await open();
    expect(engine.last().starts).toBe(1);
  });
});

describe('When the browser gives errors', () => {
  it.each([
    ['not-allowed', 'microphone_denied'],
    ['audio-capture', 'microphone_missing'],
    ['language-not-supported', 'language_missing'],
    ['service-not-allowed', 'remote_refused'],
    ['network', 'engine_failed'],
  ] as const)('takes %s at the start for %s', async (failsWith, fault) => {
    const { told, open } = setUp({ failsWith });
    await open();
    expect(told).toEqual([{ type: 'fault', fault }]);
  });

  it('takes no-speech for a mere ending', async () => {
    const { engine, told, open } = setUp();
    await open();
    engine.last().fail('no-speech');
    expect(told.at(-1)).toEqual({ type: 'ended' });
  });

  it('tells a start that throws', async () => {
    const { told, open } = setUp({ throws: true });
    await open();
    expect(told).toEqual([{ type: 'fault', fault: 'engine_failed' }]);
  });
});

describe('When the browser gives several alternatives', () => {
  it.each([
    ['one that fits', [['three fifty', 0.9]], 'taken'],
    [
      'the same number twice',
      [
        ['three fifty', 0.9],
        ['3:50', 0.4],
      ],
      'taken',
    ],
    [
      'one that fits behind talk',
      [
        ['free fifty', 0.9],
        ['three fifty', 0.1],
      ],
      'doubtful',
    ],
    [
      'two numbers',
      [
        ['three fifty', 0.9],
        ['three fifteen', 0.1],
      ],
      'doubtful',
    ],
    [
      'talk only',
      [
        ['free fifty', 0.9],
        ['tree fifty', 0.4],
      ],
      'none',
    ],
  ] as const)('judges %s by the grammar', async (_, alternatives, fit) => {
    const { engine, open, fits } = setUp();
    await open();
    engine.last().hear(alternatives);
    expect(fits()).toEqual([fit]);
  });
});

describe('When sound must stay on the device', () => {
  it('asks for local processing', async () => {
    const { engine, open } = setUp();
    await open();
    expect(engine.last().processLocally).toBe(true);
  });

  it('does not start an engine that can not promise it', async () => {
    const { engine, told, open } = setUp({ old: true });
    await open();
    expect(told).toEqual([{ type: 'fault', fault: 'remote_refused' }]);
    expect(engine.last().starts).toBe(0);
  });

  it('leaves it open only where the unit allows the remote engine', async () => {
    const { engine, open } = setUp({}, true);
    await open();
    expect(engine.last().processLocally).toBe(false);
  });
});

describe('When the ear is chosen', () => {
  const surroundings = (quirks: RecognitionQuirks | null) => ({
    browser: quirks === null ? undefined : fakeEngine(quirks).type,
    hasMicrophone: true,
    lang: 'en-US',
  });
  it.each([
    ['auto', { availability: 'available' }, 'browser', 'browser_stays_local'],
    ['auto', { availability: 'downloadable' }, 'bundled', 'browser_could_install'],
    ['auto', { availability: 'downloading' }, 'bundled', 'browser_could_install'],
    ['auto', { availability: 'unavailable' }, 'bundled', 'browser_promises_nothing'],
    ['auto', { old: true }, 'bundled', 'browser_promises_nothing'],
    ['auto', null, 'bundled', 'browser_promises_nothing'],
    ['bundled', { availability: 'available' }, 'bundled', 'unit_wants_bundled'],
    ['typed', { availability: 'available' }, 'typed', 'unit_types'],
    ['remote', { old: true }, 'remote', 'unit_allows_remote'],
    ['remote', null, 'bundled', 'browser_promises_nothing'],
  ] as const)('wish %s, engine %o: %s', async (wish, quirks, ear, reason) => {
    expect(await chooseEar(wish, surroundings(quirks))).toEqual({ ear, reason });
  });

  it('does not wait for an engine that never says whether it is there', async () => {
    const { type } = fakeEngine();
    type.available = () => new Promise(() => undefined);
    const choice = chooseEar('auto', { browser: type, hasMicrophone: true, lang: 'en-US' });
    await vi.advanceTimersByTimeAsync(3_000);
    expect(await choice).toEqual({ ear: 'bundled', reason: 'browser_promises_nothing' });
  });

  it('types without a microphone', async () => {
    const none = { ...surroundings({}), hasMicrophone: false };
    expect(await chooseEar('auto', none)).toEqual({ ear: 'typed', reason: 'no_microphone' });
  });

  it.each([
    [{ installs: true, availability: 'available' }, 'installed'],
    // Seen in Chromium: downloadable for ever, and the installation answers false.
    [{ installs: false, availability: 'downloadable' }, 'refused'],
    [{ installs: true, availability: 'downloadable' }, 'refused'],
    [{ old: true }, 'refused'],
  ] as const)('installation with %o: %s', async (quirks, outcome) => {
    expect(await installLocalEngine(fakeEngine(quirks).type, 'en-US')).toBe(outcome);
  });
});
