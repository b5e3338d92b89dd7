/** One file of a build, as it is kept for the time without a network. */
export interface KeptFile {
  /** From the app's own folder, with no slash before it, such as `assets/main-Ab12.js`. */
  readonly path: string;
  /** 64 hexadecimal digits. */
  readonly sha256: string;
  readonly bytes: number;
  /** The app works without it: it is fetched after all the rest, once, when nothing waits. */
  readonly later: boolean;
}

/** The file that answers every address a person can open. */
export const pagePath = 'index.html';

/**
 * The key of a file in the one cache of all versions: a file that does not change between two
 * versions has one key, so it is neither fetched nor stored again.
 *
 * @param home - where the app's folder is, with a closing slash
 */
export const keyOf = ({ path, sha256 }: KeptFile, home: string): string =>
  `${home}${path}?sha256=${sha256}`;
