import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

/** Web Audio as far as the microphone uses it, with the two ways it goes wrong. */
class FakeContext extends EventTarget {
  static made: FakeContext[] = [];
  /** What `resume` leads to. */
  static resumesTo: 'running' | 'interrupted' = 'running';
  static startsAs: 'running' | 'suspended' | 'interrupted' = 'running';
  state: string = FakeContext.startsAs;
  currentTime = 0;
  sampleRate = 48_000;
  audioWorklet = { addModule: () => Promise.resolve() };
  resumed = 0;

  constructor() {
    super();
    FakeContext.made.push(this);
  }
  resume(): Promise<void> {
    this.resumed += 1;
    this.state = FakeContext.resumesTo;
    return FakeContext.resumesTo === 'running'
      ? Promise.resolve()
      : Promise.reject(new Error('a gesture is needed'));
  }
  close(): Promise<void> {
    this.state = 'closed';
    return Promise.resolve();
  }
  createMediaStreamSource() {
    return { connect: () => undefined, disconnect: () => undefined };
  }
  become(state: string): void {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
}

class FakeTrack extends EventTarget {
  readyState = 'live';
  muted = false;
  mute(muted: boolean): void {
    this.muted = muted;
    this.dispatchEvent(new Event(muted ? 'mute' : 'unmute'));
  }
  stop(): void {
    this.readyState = 'ended';
  }
}

let track: FakeTrack;
let refusal: DOMException | undefined;

const opener = async () => (await import('./microphone.ts')).openMicrophone;

beforeEach(() => {
  vi.resetModules();
  vi.useFakeTimers();
  FakeContext.made = [];
  FakeContext.resumesTo = 'running';
  FakeContext.startsAs = 'running';
  track = new FakeTrack();
  refusal = undefined;
  vi.stubGlobal('AudioContext', FakeContext);
  vi.stubGlobal(
    'AudioWorkletNode',
    class {
      port = { postMessage: () => undefined };
    },
  );
  vi.stubGlobal('navigator', {
    mediaDevices: {
      getUserMedia: () =>
        refusal === undefined
          ? Promise.resolve({ getTracks: () => [track], getAudioTracks: () => [track] })
          : Promise.reject(refusal),
    },
  });
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('When the microphone is opened', () => {
  it('gives its rate, and releases the track when it is closed', async () => {
    const open = await opener();
    const microphone = await open(undefined, () => undefined);
    expect(microphone.rate).toBe(48_000);
    microphone.close();
    expect(track.readyState).toBe('ended');
  });

  it('uses one context for all sessions', async () => {
    const open = await opener();
    (await open(undefined, () => undefined)).close();
    (await open(undefined, () => undefined)).close();
    expect(FakeContext.made).toHaveLength(1);
  });

  it.each([
    ['NotAllowedError', 'microphone_denied'],
    ['SecurityError', 'microphone_denied'],
    ['NotFoundError', 'microphone_missing'],
    ['OverconstrainedError', 'microphone_missing'],
    ['NotReadableError', 'microphone_lost'],
  ])('takes %s for %s', async (name, fault) => {
    refusal = new DOMException('no', name);
    const open = await opener();
    await expect(open(undefined, () => undefined)).rejects.toMatchObject({ fault });
  });

  it('names a page without any media devices', async () => {
    vi.stubGlobal('navigator', {});
    const open = await opener();
    await expect(open(undefined, () => undefined)).rejects.toMatchObject({
      fault: 'microphone_missing',
    });
  });
});

describe('When the device is unplugged', () => {
  it('tells it once, and not after it was closed', async () => {
    const lost = vi.fn();
    const open = await opener();
    const microphone = await open(undefined, lost);
    track.dispatchEvent(new Event('ended'));
    microphone.close();
    track.dispatchEvent(new Event('ended'));
    expect(lost.mock.calls).toEqual([['microphone_lost']]);
  });
});

describe('When another app takes the microphone', () => {
  it('tells it once the track was mute for a second and a half', async () => {
    const lost = vi.fn();
    const open = await opener();
    await open(undefined, lost);
    track.mute(true);
    await vi.advanceTimersByTimeAsync(1_499);
    expect(lost).not.toHaveBeenCalled();
    await vi.advanceTimersByTimeAsync(1);
    expect(lost.mock.calls).toEqual([['microphone_lost']]);
  });

  it('lets a short gap pass', async () => {
    const lost = vi.fn();
    const open = await opener();
    await open(undefined, lost);
    track.mute(true);
    await vi.advanceTimersByTimeAsync(1_000);
    track.mute(false);
    await vi.advanceTimersByTimeAsync(900);
    expect(lost).not.toHaveBeenCalled();
  });

  it('tells a track that is mute from the start', async () => {
    track.muted = true;
    const lost = vi.fn();
    const open = await opener();
    await open(undefined, lost);
    await vi.advanceTimersByTimeAsync(1_500);
    expect(lost.mock.calls).toEqual([['microphone_lost']]);
  });
});

describe('When a context starts suspended and its worklet would never run (Safari)', () => {
  it('resumes it within the opening', async () => {
    FakeContext.startsAs = 'suspended';
    const open = await opener();
    await open(undefined, () => undefined);
    expect(FakeContext.made[0]?.resumed).toBe(1);
  });
});

describe('When a call or a screen lock interrupts the sound (iOS)', () => {
  it('tells the suspension', async () => {
    const lost = vi.fn();
    const open = await opener();
    await open(undefined, lost);
    FakeContext.made[0]?.become('interrupted');
    expect(lost.mock.calls).toEqual([['sound_suspended']]);
  });

  it('gives the microphone back and drops a context that does not resume', async () => {
    FakeContext.startsAs = 'interrupted';
    FakeContext.resumesTo = 'interrupted';
    const open = await opener();
    await expect(open(undefined, () => undefined)).rejects.toMatchObject({
      fault: 'sound_suspended',
    });
    expect(track.readyState).toBe('ended');
    expect(FakeContext.made[0]?.state).toBe('closed');
  });

  it('makes a new context for the next try', async () => {
    FakeContext.startsAs = 'interrupted';
    FakeContext.resumesTo = 'interrupted';
    const open = await opener();
    await open(undefined, () => undefined).catch(() => undefined);
    FakeContext.startsAs = 'running';
    await open(undefined, () => undefined);
    expect(FakeContext.made).toHaveLength(2);
  });

  it('notices a context that says it runs while its clock stands still', async () => {
    const lost = vi.fn();
    const open = await opener();
    await open(undefined, lost);
    const [context] = FakeContext.made;
    if (context === undefined) throw new Error('no context was made');
    context.currentTime = 2;
    await vi.advanceTimersByTimeAsync(2_000);
    expect(lost).not.toHaveBeenCalled();
    await vi.advanceTimersByTimeAsync(2_000);
    expect(lost.mock.calls).toEqual([['sound_suspended']]);
    expect(context.state).toBe('closed');
  });
});
