import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { keepFile, type KeepPorts } from './keepFile.ts';
import { keyOf, type KeptFile } from './keptFile.ts';

const home = 'https://ward.example/';
const sum = (text: string) => createHash('sha256').update(text).digest('hex');
const fileOf = (text: string): KeptFile => ({
  path: 'assets/step.js',
  sha256: sum(text),
  bytes: text.length,
  later: false,
});

/** A cache and a server that answers in turn what the test says. */
function world(answers: readonly (string | number)[]) {
  const kept = new Map<string, Response>();
  const asked: RequestCache[] = [];
  const ports: KeepPorts = {
    home,
    cache: {
      match: async (key) => kept.get(key as string)?.clone(),
      put: async (key, response) => void kept.set(key as string, response),
    },
    fetch: async (request) => {
      const answer = answers[asked.push(request.cache) - 1];
      if (answer === undefined) throw new TypeError('the server is gone');
      return typeof answer === 'number'
        ? new Response(null, { status: answer })
        : new Response(answer, { headers: { 'Content-Type': 'text/javascript' } });
    },
    sha256: async (bytes) => createHash('sha256').update(new Uint8Array(bytes)).digest('hex'),
  };
  return { kept, asked, ports };
}

describe('When a file is kept for the time offline', () => {
  const file = fileOf('step 1');

  it('fetches it once and knows it from then on', async () => {
    const { kept, asked, ports } = world(['step 1']);
    expect(await keepFile(file, ports)).toBe('fetched');
    expect(await keepFile(file, ports)).toBe('known');
    expect(asked).toEqual(['default']);
    expect(await kept.get(keyOf(file, home))?.clone().text()).toBe('step 1');
    expect(kept.get(keyOf(file, home))?.headers.get('Content-Type')).toBe('text/javascript');
  });

  it('fetches it past the browser’s own cache when that one is damaged', async () => {
    const { asked, ports } = world(['step !', 'step 1']);
    expect(await keepFile(file, ports)).toBe('fetched');
    expect(asked).toEqual(['default', 'reload']);
  });

  it('keeps nothing of a server that has another file', async () => {
    const { kept, ports } = world(['step 2', 'step 2']);
    await expect(keepFile(file, ports)).rejects.toMatchObject({ code: 'file_damaged' });
    expect(kept.size).toBe(0);
  });

  it.each([404, 500])('keeps nothing of an answer %i', async (status) => {
    const { kept, ports } = world([status]);
    await expect(keepFile(file, ports)).rejects.toMatchObject({ code: 'file_missing' });
    expect(kept.size).toBe(0);
  });

  it('replaces a copy that the disk has spoilt', async () => {
    const { kept, ports } = world(['step 1']);
    kept.set(keyOf(file, home), new Response('st\0p 1'));
    expect(await keepFile(file, ports)).toBe('fetched');
    expect(await kept.get(keyOf(file, home))?.clone().text()).toBe('step 1');
  });

  it('leaves a spoilt copy where it can not be replaced', async () => {
    const { ports } = world([]);
    await expect(keepFile(file, ports)).rejects.toThrow('gone');
  });

  it('gives two contents of one name two keys', () => {
    expect(keyOf(fileOf('old'), home)).not.toBe(keyOf(fileOf('new'), home));
  });
});
