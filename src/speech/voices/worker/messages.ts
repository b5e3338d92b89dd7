import type { Wave } from '../../wave.ts';

export interface SayRequest {
  readonly id: number;
  /** Where flite's program stands. */
  readonly program: string;
  readonly text: string;
}

export type SayAnswer =
  ({ readonly id: number } & Wave) | { readonly id: number; readonly error: string };
