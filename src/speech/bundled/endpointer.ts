/** Where an utterance begins and ends, in frames of 10 ms. */
export interface EndpointerSettings {
  /** A frame is voice from this likelihood on, before an utterance and within one. */
  readonly voice: number;
  readonly voiceWithin: number;
  /** Voice frames within {@link startWindow} that begin an utterance. */
  readonly startFrames: number;
  readonly startWindow: number;
  /** Frames with next to no voice that end one: the hang. */
  readonly hang: number;
  /** The hang where more is to be expected. */
  readonly longHang: number;
  /** Voice frames that are forgiven within the hang. */
  readonly forgiven: number;
  /** An utterance is cut here. */
  readonly longest: number;
}

/**
 * 0.6 s of hang lets people breathe between two words, 1 s between two digits that they read off one
 * by one. Within an utterance less counts as voice: the F, S and X of digits hardly do to the net.
 */
export const endpointerSettings: EndpointerSettings = {
  voice: 0.5,
  voiceWithin: 0.2,
  startFrames: 7,
  startWindow: 12,
  hang: 60,
  longHang: 100,
  forgiven: 3,
  longest: 1000,
};

export type EndpointerStep = 'quiet' | 'start' | 'speech' | 'end';

/** Says frame by frame whether somebody speaks. */
export class Endpointer {
  #settings: EndpointerSettings;
  #recent: boolean[] = [];
  #frames = 0;
  #speaking = false;

  constructor(settings: EndpointerSettings = endpointerSettings) {
    this.#settings = settings;
  }

  /** Frames of 10 ms with next to no voice that end an utterance, from now on. */
  set hang(frames: number) {
    this.#settings = { ...this.#settings, hang: frames };
  }

  get speaking(): boolean {
    return this.#speaking;
  }

  /**
   * @param voice - likelihood of voice in the next 10 ms, 0 to 1
   * @param isUnfinished - whether more is to be expected; asked only where an utterance would end
   */
  step(voice: number, isUnfinished: () => boolean = () => false): EndpointerStep {
    const { startFrames, startWindow, hang, forgiven, longest } = this.#settings;
    const { voice: before, voiceWithin } = this.#settings;
    const longHang = Math.max(hang, this.#settings.longHang);
    this.#recent.push(voice >= (this.#speaking ? voiceWithin : before));
    if (this.#recent.length > Math.max(longHang, startWindow)) this.#recent.shift();
    const voiced = (frames: number): number => this.#recent.slice(-frames).filter(Boolean).length;

    if (!this.#speaking) {
      if (voiced(startWindow) < startFrames) return 'quiet';
      this.#speaking = true;
      this.#frames = 0;
      return 'start';
    }
    this.#frames += 1;
    const quiet = (frames: number): boolean => this.#frames >= frames && voiced(frames) <= forgiven;
    const over = quiet(hang) && (quiet(longHang) || !isUnfinished());
    if (!over && this.#frames < longest) return 'speech';
    this.reset();
    return 'end';
  }

  reset(): void {
    this.#speaking = false;
    this.#recent = [];
    this.#frames = 0;
  }
}
