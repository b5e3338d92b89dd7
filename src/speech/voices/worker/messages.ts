import type { Wave } from '../../wave.ts';
import type { FliteVoice } from '../flite.ts';

export interface SayRequest {
  readonly id: number;
  /** Flite's program, or where it stands. */
  readonly program: string | WebAssembly.Module;
  readonly text: string;
  readonly voice: FliteVoice;
  /** 1 is the voice's own speed, 1.2 slower. */
  readonly stretch: number;
}

export type SayAnswer =
  ({ readonly id: number } & Wave) | { readonly id: number; readonly error: string };
