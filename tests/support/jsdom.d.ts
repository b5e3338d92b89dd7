/** The little that is used of a package without types of its own. */
declare module 'jsdom' {
  export class JSDOM {
    constructor(html: string);
    readonly window: { readonly DOMParser: typeof globalThis.DOMParser };
  }
}
