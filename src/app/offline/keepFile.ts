import { keyOf, type KeptFile } from './keptFile.ts';

/** What keeping a file needs of the world; all of it can fail. */
export interface KeepPorts {
  /** Where the app's folder is, with a closing slash. */
  readonly home: string;
  readonly cache: Pick<Cache, 'match' | 'put'>;
  readonly fetch: (request: Request) => Promise<Response>;
  /** 64 hexadecimal digits. */
  readonly sha256: (bytes: ArrayBuffer) => Promise<string>;
}

/** A file that is not what its build said, or not there. */
export class FileFault extends Error {
  override readonly name = 'FileFault';
  readonly code: 'file_missing' | 'file_damaged';

  constructor(code: FileFault['code'], path: string) {
    super(`${code}: ${path}`);
    this.code = code;
  }
}

/**
 * See to it that a file is kept, and is byte for byte the one of its build.
 *
 * A copy that is there already is read and checked, too: a disk can spoil what it holds. What comes
 * damaged out of the browser's own cache is fetched past it once.
 *
 * @returns whether it had to be fetched
 * @throws {FileFault} when the server has it not, or has another one
 */
export async function keepFile(file: KeptFile, ports: KeepPorts): Promise<'known' | 'fetched'> {
  const { home, cache, fetch, sha256 } = ports;
  const key = keyOf(file, home);
  const known = await cache.match(key);
  if (known !== undefined && (await sha256(await known.arrayBuffer())) === file.sha256) {
    return 'known';
  }
  for (const passing of ['default', 'reload'] as const) {
    const response = await fetch(new Request(home + file.path, { cache: passing }));
    if (!response.ok) throw new FileFault('file_missing', file.path);
    const bytes = await response.arrayBuffer();
    if ((await sha256(bytes)) !== file.sha256) continue;
    const type = response.headers.get('Content-Type') ?? 'application/octet-stream';
    await cache.put(key, new Response(bytes, { headers: { 'Content-Type': type } }));
    return 'fetched';
  }
  throw new FileFault('file_damaged', file.path);
}
