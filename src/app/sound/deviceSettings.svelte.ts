import * as v from 'valibot';

/** What is kept for this device alone, whoever holds it. */
const schema = v.object({
  /** Of the voice, 0 to 1. */
  volume: v.pipe(v.number(), v.minValue(0), v.maxValue(1)),
  /** Of the voice; 1 is its own speed. */
  rate: v.pipe(v.number(), v.minValue(0.5), v.maxValue(2)),
  /** Tones and captions in place of the voice. */
  quiet: v.boolean(),
  /** `auto` follows the device. */
  theme: v.picklist(['auto', 'day', 'night']),
  /** More time between two words, for slow speech. */
  slow: v.boolean(),
});

export type DeviceSettings = v.InferOutput<typeof schema>;

export const usualDevice: DeviceSettings = {
  volume: 1,
  rate: 1,
  quiet: false,
  theme: 'auto',
  slow: false,
};

/** Quiet that ends an utterance, ms: usual, and for slow speech. */
const endSilences = { usual: 600, slow: 1_500 } as const;

const place = 'gloveside-device';

type Shelf = Pick<Storage, 'getItem' | 'setItem'>;

/**
 * How this device speaks, listens and looks.
 *
 * It stands outside the record, which may be locked: the theme is needed before anybody unlocks it,
 * and nothing in it says who is cared for.
 */
export class DeviceBook {
  /** False while the device does not keep what was set. */
  kept = $state(true);
  readonly #shelf: () => Shelf | undefined;
  #current = $state.raw<DeviceSettings>(usualDevice);

  /** @param shelf - where it is kept; undefined, or throwing, where the browser keeps nothing */
  constructor(shelf: () => Shelf | undefined) {
    this.#shelf = shelf;
    this.#current = this.#read();
  }

  get current(): DeviceSettings {
    return this.#current;
  }

  /** How long a speaker may be quiet within an utterance, ms. */
  get endSilence(): number {
    return endSilences[this.#current.slow ? 'slow' : 'usual'];
  }

  /** Put part of the settings into use, and keep it where the device lets us. */
  set(part: Partial<DeviceSettings>): void {
    this.#current = { ...this.#current, ...part };
    try {
      const shelf = this.#shelf();
      shelf?.setItem(place, JSON.stringify(this.#current));
      this.kept = shelf !== undefined;
    } catch {
      this.kept = false;
    }
  }

  #read(): DeviceSettings {
    try {
      const text = this.#shelf()?.getItem(place) ?? null;
      if (text === null) return usualDevice;
      const parsed = v.safeParse(schema, { ...usualDevice, ...(JSON.parse(text) as object) });
      return parsed.success ? parsed.output : usualDevice;
    } catch {
      return usualDevice;
    }
  }
}

/** This device's own. */
export const deviceSettings = new DeviceBook(() =>
  'localStorage' in globalThis ? globalThis.localStorage : undefined,
);
