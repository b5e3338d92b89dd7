/** The part of the Trusted Types API that is used; not every browser has it. */
interface TrustedTypes {
  createPolicy(name: string, rules: { createScriptURL(address: string): string }): unknown;
}

/**
 * Let workers be started from our own origin and from nowhere else.
 *
 * The page's policy refuses any address of a script that has not come through here. Call it once,
 * before the first worker.
 *
 * @see https://www.w3.org/TR/trusted-types/
 */
export function trustOwnScripts(): void {
  const { trustedTypes } = globalThis as { trustedTypes?: TrustedTypes };
  trustedTypes?.createPolicy('default', {
    createScriptURL(address) {
      const { origin, protocol } = new URL(address, document.baseURI);
      // A `blob:` made here has our origin, and any content.
      if (origin !== location.origin || protocol !== location.protocol) {
        throw new TypeError(`script_elsewhere: ${protocol} ${origin}`);
      }
      return address;
    },
  });
}
