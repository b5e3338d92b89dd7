import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { preview } from 'vite';

const root = resolve(import.meta.dirname, '../..');

/** A served build. */
export interface Server {
  /** Origin with a closing slash, such as `http://127.0.0.1:43215/`. */
  readonly url: string;
  close(): Promise<void>;
}

/** A build in a folder of its own. */
export interface Build {
  readonly folder: string;
  remove(): Promise<void>;
}

/**
 * Build the app as a user gets it, into a new folder.
 *
 * A process of its own builds, as Vitest's `NODE_ENV` would make it a development build.
 *
 * @param from - where the source is
 * @throws with what the build printed, when it fails
 */
export async function buildApp(from = root): Promise<Build> {
  const folder = await mkdtemp(join(tmpdir(), 'gloveside-dist-'));
  const remove = () => rm(folder, { recursive: true, force: true });
  const vite = join(root, 'node_modules/vite/bin/vite.js');
  const words = [vite, 'build', '--outDir', folder, '--emptyOutDir', '--logLevel', 'warn'];
  const environment = Object.fromEntries(
    Object.entries(process.env).filter(
      ([name]) => !/^(VITEST|NODE_ENV|VITE_|TEST$|PROD$|DEV$|MODE$)/.test(name),
    ),
  );
  const child = spawn(process.execPath, words, {
    cwd: from,
    env: environment,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let printed = '';
  child.stdout.on('data', (part: Buffer) => (printed += part.toString()));
  child.stderr.on('data', (part: Buffer) => (printed += part.toString()));
  const code = await new Promise<number | null>((done, fail) => {
    child.once('error', fail);
    child.once('close', done);
  });
  if (code !== 0) {
    await remove();
    throw new Error(`build_failed: vite build ended with ${String(code)}\n${printed}`);
  }
  return { folder, remove };
}

/** The build that `DIST` names, or one that is made now. */
export async function builtApp(): Promise<Build> {
  const ready = process.env.DIST;
  if (ready === undefined || ready === '') return buildApp();
  return { folder: resolve(ready), remove: () => Promise.resolve() };
}

/**
 * Serve a build with the headers of `vite preview`.
 *
 * @param port - 0 takes a free one; a number brings a stopped origin back, storage and all
 */
export async function serve(folder: string, port = 0): Promise<Server> {
  const server = await preview({
    configFile: join(root, 'vite.config.ts'),
    logLevel: 'warn',
    build: { outDir: folder },
    preview: { port, host: '127.0.0.1', strictPort: port !== 0, open: false },
  });
  const address = server.httpServer.address();
  if (address === null || typeof address === 'string') throw new Error('no_port: server has none');
  return {
    url: `http://127.0.0.1:${address.port}/`,
    close: () => server.close(),
  };
}
