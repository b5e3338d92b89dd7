/**
 * Whether the bundled ear's model is on its way. The first time it comes over the network, and a slow
 * one takes half a minute: nobody waits for it, but the screen says why nothing is heard yet.
 */
export class EarLoading {
  pending = $state(false);
  /** How much of it has come, 0 to 1. */
  share = $state(0);

  /** Pending until this is over, well or not; what went wrong is told when the ear is opened. */
  async of(loading: Promise<unknown>): Promise<void> {
    this.pending = true;
    try {
      await loading;
    } catch {
      // Opening the ear again says it.
    } finally {
      this.pending = false;
    }
  }
}

/** Of this page. */
export const earLoading = new EarLoading();
