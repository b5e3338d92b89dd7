import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const read = (name: string) => readFileSync(new URL(`../../${name}`, import.meta.url), 'utf8');
const { scripts } = JSON.parse(read('package.json')) as { scripts: Record<string, string> };
const table = read('DEVELOPERS.md')
  .split('\n')
  .filter((line) => line.startsWith('| `npm'))
  .map((line) => line.split('|')[1] ?? '')
  .join(' ');

describe('When a script is added', () => {
  it.each(Object.keys(scripts))('%s stands in the contributors’ table', (name) => {
    expect(` ${table.replaceAll('`', ' ')} `).toMatch(new RegExp(`[ :]${name}[ ]`));
  });
});
