import type { EarName } from './ear.ts';
import type { RecognitionType } from './recognition.ts';

/** Why an ear was chosen; the sentence for each stands in `words`. */
export type EarReason =
  /** The unit chose typing. */
  | 'unit_types'
  /** The unit switched the remote engine on by name. */
  | 'unit_allows_remote'
  /** The browser promises that sound stays here. */
  | 'browser_stays_local'
  /** The browser promises nothing, so ours listens. */
  | 'browser_promises_nothing'
  /** The browser could stay local after a download; the unit may install it. */
  | 'browser_could_install'
  /** The unit asked for the bundled ear. */
  | 'unit_wants_bundled'
  | 'no_microphone';

export interface EarChoice {
  readonly ear: EarName;
  readonly reason: EarReason;
}

/** What the unit set: `auto` keeps sound on the device and takes the best ear that does. */
export type EarWish = 'auto' | 'bundled' | 'remote' | 'typed';

export interface EarSurroundings {
  /** The browser's engine, prefixed or not; undefined where there is none. */
  readonly browser: RecognitionType | undefined;
  readonly hasMicrophone: boolean;
  readonly lang: string;
}

/**
 * Which ear listens, and why.
 *
 * A local engine that only *says* it is there is tried again by its own supervision: some builds
 * answer `available` and then refuse to start.
 */
export async function chooseEar(
  wish: EarWish,
  { browser, hasMicrophone, lang }: EarSurroundings,
): Promise<EarChoice> {
  if (wish === 'typed') return { ear: 'typed', reason: 'unit_types' };
  if (!hasMicrophone) return { ear: 'typed', reason: 'no_microphone' };
  if (wish === 'bundled') return { ear: 'bundled', reason: 'unit_wants_bundled' };
  if (wish === 'remote' && browser !== undefined) {
    return { ear: 'remote', reason: 'unit_allows_remote' };
  }
  switch (await localAvailability(browser, lang)) {
    case 'available':
      return { ear: 'browser', reason: 'browser_stays_local' };
    case 'downloadable':
    case 'downloading':
      return { ear: 'bundled', reason: 'browser_could_install' };
    case 'unavailable':
      return { ear: 'bundled', reason: 'browser_promises_nothing' };
  }
}

/** An engine that does not answer within this time is not waited for: a walk is to begin, ms. */
const answerLimit = 3_000;

/** A browser that does not know the question does not know the promise either. */
async function localAvailability(browser: RecognitionType | undefined, lang: string) {
  if (typeof browser?.available !== 'function') return 'unavailable';
  try {
    return await Promise.race([
      browser.available({ langs: [lang], processLocally: true }),
      new Promise<'unavailable'>((resolve) => {
        setTimeout(() => {
          resolve('unavailable');
        }, answerLimit);
      }),
    ]);
  } catch {
    return 'unavailable';
  }
}

export type InstallOutcome = 'installed' | 'refused';

/**
 * Ask the browser to fetch its local engine; offered once, at set-up.
 *
 * Some builds answer `downloadable` for ever and `install` with false: so the answer afterwards is
 * what counts.
 */
export async function installLocalEngine(
  browser: RecognitionType,
  lang: string,
): Promise<InstallOutcome> {
  try {
    const installed = await browser.install?.({ langs: [lang], processLocally: true });
    if (installed !== true) return 'refused';
    return (await localAvailability(browser, lang)) === 'available' ? 'installed' : 'refused';
  } catch {
    return 'refused';
  }
}
