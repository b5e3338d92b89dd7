/**
 * Stands in for `blob-polyfill`, which the engine imports and which asks for a `document` that no
 * worker has. Every browser that runs the app has its own Blob.
 */
export const Blob = globalThis.Blob;
