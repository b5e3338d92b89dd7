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
      const { origin } = new URL(address, document.baseURI);
      if (origin !== location.origin) throw new TypeError(`script_elsewhere: ${origin}`);
      return address;
    },
  });
}
