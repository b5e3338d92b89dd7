import { cp, mkdtemp, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { buildApp, type Build } from './server.ts';

const root = resolve(import.meta.dirname, '../..');
const parts = [
  'src',
  'demo',
  'grammars',
  '.config',
  'vite.config.ts',
  'tsconfig.json',
  'package.json',
];

/** How the next version names itself. */
export const nextName = 'Gloveside, next version';

/** Build the app with one word of its source changed, as the version after this one. */
export async function buildNextVersion(): Promise<Build> {
  const copy = await mkdtemp(join(tmpdir(), 'gloveside-next-'));
  try {
    for (const part of parts) await cp(join(root, part), join(copy, part), { recursive: true });
    await symlink(join(root, 'node_modules'), join(copy, 'node_modules'));
    const file = join(copy, 'src/words/en-US/shell.ts');
    const words = await readFile(file, 'utf8');
    const changed = words.replace("name: 'Gloveside'", `name: '${nextName}'`);
    if (changed === words) throw new Error('no_change: the name stands elsewhere now');
    await writeFile(file, changed);
    return await buildApp(copy);
  } finally {
    await rm(copy, { recursive: true, force: true });
  }
}
