import {
  ask,
  type AreYouBusy,
  type Mended,
  type TakeOver,
  type ToServiceWorker,
} from './messages.ts';

/** Whether the app will open without a network. */
export type Keeping =
  /** The browser has no service worker, or the page is not served securely. */
  | 'impossible'
  /** Files are being fetched and checked. */
  | 'keeping'
  /** All that a walk needs is kept. */
  | 'kept'
  /** Not all could be fetched, or a file came damaged; tried again at the next start. */
  | 'failed';

/** Whether a newer version is there. It never comes into a page by itself. */
export type Renewal =
  | 'none'
  /** Fetched, checked, and waiting for a person. */
  | 'waiting'
  /** A person asked for it while a walk was on its way, here or in another window. */
  | 'refused'
  /** Taken over from another window: this page still runs the old code, whose files are kept. */
  | 'elsewhere';

/** What the page's own service worker handling needs of the browser. */
export interface OfflinePorts {
  /** Undefined where the browser has none. */
  readonly container: ServiceWorkerContainer | undefined;
  readonly script: string;
  /** A walk is on its way in this page. */
  readonly busy: () => boolean;
  readonly reload: () => void;
  /** The person asked the browser to spare the network. */
  readonly sparing: boolean;
}

/** A new version is looked for this often while the page stays open, ms. */
const LOOK_EVERY = 60 * 60_000;
const TAKE_OVER_LIMIT = 10_000;
/** A slow network may take minutes for the bundled voice, ms. */
const MEND_LIMIT = 30 * 60_000;

/** The app's keeping of itself for the time without a network, and its renewal. */
export class Offline {
  keeping = $state.raw<Keeping>('keeping');
  renewal = $state.raw<Renewal>('none');
  /** The bundled voice is kept too, so a device without a voice of its own speaks offline. */
  complete = $state.raw(false);
  readonly #ports: OfflinePorts;
  #registration: ServiceWorkerRegistration | undefined;
  #leaving = false;

  constructor(ports: OfflinePorts) {
    this.#ports = ports;
  }

  /**
   * Register, look for a newer version, and check what is kept.
   *
   * @param quiet - resolves when the page has loaded what it needs at once: that goes first
   */
  async start(quiet: Promise<unknown>): Promise<void> {
    const { container, script } = this.#ports;
    if (container === undefined) {
      this.keeping = 'impossible';
      return;
    }
    container.addEventListener('message', this.#answer);
    container.startMessages();
    let controlled = container.controller !== null;
    container.addEventListener('controllerchange', () => {
      if (this.#leaving) this.#ports.reload();
      else if (controlled) this.renewal = 'elsewhere';
      controlled = true;
    });
    await quiet;
    try {
      const registration = await container.register(script, { updateViaCache: 'none' });
      this.#registration = registration;
      registration.addEventListener('updatefound', this.#look);
      this.#look();
      setInterval(() => void registration.update().catch(() => undefined), LOOK_EVERY);
      if (registration.active === null && (await this.#refused(registration))) return;
      await this.#mend(await container.ready);
    } catch {
      // Private windows of some browsers refuse; a damaged copy already kept still serves the page.
      this.keeping = container.controller === null ? 'failed' : 'kept';
    }
  }

  /** A person wants the new version. In a walk, in this window or another, it goes on waiting. */
  async apply(): Promise<void> {
    const { busy, reload } = this.#ports;
    if (busy()) {
      this.renewal = 'refused';
      return;
    }
    if (this.renewal === 'elsewhere') {
      reload();
      return;
    }
    const waiting = this.#registration?.waiting;
    if (!waiting) return;
    this.#leaving = true;
    const message: ToServiceWorker = { type: 'take over' };
    if ((await ask<TakeOver>(waiting, message, TAKE_OVER_LIMIT)) === 'taken') return;
    this.#leaving = false;
    this.renewal = 'refused';
  }

  /** The service worker asks a page one thing only: whether it is busy. */
  readonly #answer = ({ ports }: MessageEvent<AreYouBusy>): void => {
    ports[0]?.postMessage(this.#ports.busy());
  };

  readonly #look = (): void => {
    const { installing, waiting, active } = this.#registration ?? {};
    if (waiting && active) this.renewal = 'waiting';
    installing?.addEventListener('statechange', this.#look);
  };

  /** Resolves with whether the first version could not be installed. */
  #refused({ installing }: ServiceWorkerRegistration): Promise<boolean> {
    return new Promise((resolve) => {
      const settle = (): void => {
        if (installing?.state === 'redundant') {
          this.keeping = 'failed';
          resolve(true);
        }
        if (installing === null || installing.state === 'activated') resolve(false);
      };
      installing?.addEventListener('statechange', settle);
      settle();
    });
  }

  async #mend({ active }: ServiceWorkerRegistration): Promise<void> {
    this.keeping = 'kept';
    if (active === null) return;
    const message: ToServiceWorker = { type: 'mend', sparing: this.#ports.sparing };
    const mended = await ask<Mended>(active, message, MEND_LIMIT);
    this.complete = mended !== undefined && mended.kept === mended.of;
  }
}
