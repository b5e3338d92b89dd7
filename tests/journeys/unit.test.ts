import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { downloaded, fileOf } from '../support/files.ts';

const procedures = join(import.meta.dirname, '../../src/procedures/en-US');
const urinal = readFileSync(join(procedures, 'urinal.json'), 'utf8')
  .replace('"id": "urinal"', '"id": "night-bottle"')
  .replace(/"title": "[^"]*"/, '"title": "Empty a night bottle"')
  .replace(/"spoken": \[[^\]]*\]/, '"spoken": ["night bottle"]');

describe('When a unit is set up in a browser', () => {
  const home = inject('baseUrl');
  let browser: OpenBrowser;
  let page: Page;

  beforeEach(async () => {
    browser = await openBrowser({ context: { acceptDownloads: true } });
    ({ page } = browser);
    await goTo('unit', 'Set up the unit');
  });

  afterEach(() => browser.close());

  async function goTo(place: string, heading: string): Promise<void> {
    await page.goto(`${home}#/${place}`);
    await page.getByRole('heading', { level: 1, name: heading }).waitFor();
  }

  const part = (name: string) => page.locator(`#unit-${name}`);
  const open = (name: string) => part(name).locator('summary').click();
  const save = async () => {
    await page.getByRole('button', { name: 'Save the settings' }).click();
    await page.getByText('Saved. The next walk uses it.').waitFor();
  };

  const downloadOf = (button: string) => downloaded(page, button);

  it('beds and a procedure of its own are at the bedside, also after a reload', async () => {
    await open('beds');
    await part('beds').getByRole('button', { name: 'Add' }).click();
    await part('beds').getByLabel('Bed', { exact: true }).last().fill('Bay 2, window');
    await open('procedures');
    const pick = part('procedures').getByLabel('Take in a procedure file');
    const broken = urinal.replace('"fluid": "urineVoided"', '"fluid": "oralFluid"');
    await pick.setInputFiles(fileOf('ours.json', broken));
    const line = broken.split('\n').findIndex((each) => each.includes('"fluid"')) + 1;
    await part('procedures').getByText(`Line ${line}`, { exact: true }).waitFor();
    await pick.setInputFiles(fileOf('ours.json', urinal));
    await part('procedures').getByText('“Empty a night bottle” is in the list.').waitFor();
    await save();
    await page.reload();
    await goTo('bedside', 'Which bed, and what?');
    await page.getByRole('radio', { name: 'Bay 2, window' }).waitFor();
    await page.getByRole('radio', { name: 'Empty a night bottle' }).waitFor();
    expect(browser.errors).toEqual([]);
  });

  it('the settings go out as a file, and come back into another device', async () => {
    await open('name');
    await part('name').getByLabel('Name of the unit').fill('North wing');
    await save();
    await open('file');
    const { name, text } = await downloadOf('Get the settings as a file');
    expect(name).toBe('north-wing-settings.json');
    const other = await openBrowser();
    try {
      await other.page.goto(`${home}#/unit`);
      await other.page.locator('#unit-file summary').click();
      await other.page
        .getByLabel('Take in a settings file')
        .setInputFiles(fileOf('north.json', text));
      await other.page.getByRole('button', { name: 'Save the settings' }).click();
      await other.page.getByText('Saved. The next walk uses it.').waitFor();
      await other.page.goto(`${home}#/sheet`);
      await other.page.getByText('North wing').first().waitFor();
    } finally {
      await other.close();
    }
  });

  it('the record goes out as a backup, a bundle and a table, and the backup comes back', async () => {
    await goTo('sheet', 'Sheet');
    const backup = await downloadOf('Whole record (backup)');
    expect(backup.name).toMatch(/^gloveside-backup-\d{4}-\d\d-\d\dT\d{4}\.jsonl$/);
    const lines = backup.text.trimEnd().split('\n');
    expect(lines.length).toBeGreaterThan(2);
    const restore = page.getByLabel('Bring a backup back');
    await restore.setInputFiles(fileOf('backup.jsonl', backup.text));
    await page.getByText(`0 events added, ${lines.length - 2} were here already.`).waitFor();
    await restore.setInputFiles(fileOf('backup.jsonl', backup.text.replace('"page.', '"pag.')));
    await page.getByText(/Line \d+: .* Nothing was restored/).waitFor();
    const fhir = await downloadOf('FHIR bundle (JSON)');
    expect(JSON.parse(fhir.text)).toMatchObject({ resourceType: 'Bundle', type: 'transaction' });
    const csv = await downloadOf('Spreadsheet (CSV)');
    expect(csv.text).toMatch(/^Entry id,Bed,/);
    expect(browser.errors).toEqual([]);
    expect(browser.leaving(home)).toEqual([]);
  });

  it.each(['Letter', 'A4'])(
    'the card of what can be said fits on one page of %s',
    async (format) => {
      await open('card');
      const pdf = await page.pdf({ format });
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    },
  );

  it('settings that are broken on the disk are told, and the defaults are in use', async () => {
    await page.evaluate(async () => {
      const request = indexedDB.open('gloveside');
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error ?? new Error('no database'));
      });
      const transaction = database.transaction('state', 'readwrite');
      const body = new TextEncoder().encode('{"schema":1,"name":"Half a unit"}');
      transaction.objectStore('state').put(body, 'settings');
      await new Promise((resolve) => (transaction.oncomplete = resolve));
      database.close();
    });
    await page.reload();
    await page.getByText('The unit’s settings can not be read').waitFor();
    await open('name');
    expect(await part('name').getByLabel('Name of the unit').inputValue()).toBe('New unit');
  });
});
