import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '..', '..');
const folder = mkdtempSync(join(tmpdir(), 'validate-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

const good = readFileSync(join(root, 'src/procedures/en-US/drainage-bag.json'), 'utf8');
const file = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
const validate = (...files: string[]) => {
  const run = spawnSync(
    process.execPath,
    [join(root, 'node_modules/tsx/dist/cli.mjs'), 'tests/instruments/validate.ts', ...files],
    { cwd: root, encoding: 'utf8' },
  );
  return { status: run.status, out: run.stdout, err: run.stderr };
};

describe('When procedure files are validated', { timeout: 60_000 }, () => {
  it('the project’s own have no fault', () => {
    const out = 'procedures: 9 read, 0 faults\ngrammars: 1 read, 0 faults\n';
    expect(validate()).toEqual({ status: 0, out, err: '' });
  });

  it('a file that is not called as its procedure is told, also by itself', () => {
    const { status, err } = validate(file('drain-bag.json', good));
    expect(status).toBe(1);
    expect(err).toContain('drain-bag.json: file and "id" differ: call the file drainage-bag.json');
  });

  it('every fault of every file is told with its line, and the end is 1', () => {
    const cut = file('cut.json', good.slice(0, 200));
    const touch = file(
      'drainage-bag.json',
      good
        .replace('Lay a barrier on the floor', 'Press the button, then clamp the tube')
        .replace('"closeTap"', '"openTap"'),
    );
    const missing = join(folder, 'missing.json');
    const { status, out, err } = validate(cut, touch, missing);
    expect(status).toBe(1);
    const line = good.slice(0, good.indexOf('Lay a barrier')).split('\n').length;
    expect(err).toMatch(/cut\.json:\d+ {2}not_json: /);
    expect(err).toContain(`drainage-bag.json:${line} steps.5.call touch_while_gloved: `);
    expect(err).toContain(`drainage-bag.json:${line} steps.5.call forbidden_act: "clamp" `);
    expect(err).toMatch(/drainage-bag\.json:\d+ steps\.8 tap_left_open: /);
    expect(err).toContain('missing.json');
    expect(out).toMatch(/^procedures: 3 read, \d+ faults\n$/);
  });
});
