import { render, screen } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { defaultUnit } from '../../app/defaultUnit.ts';
import { readUnit, unitText } from '../../app/readUnit.ts';
import { freeCodes, type Unit as Settings } from '../../app/unit.ts';
import type { StorageFault } from '../../storage/ledger.ts';
import Unit from './Unit.svelte';

// Names and roles are reckoned slowly in jsdom; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

/** A desk that keeps settings in memory, or refuses them. */
class MemoryDesk {
  unit = $state.raw<Settings>(defaultUnit);
  fault: StorageFault | null = null;
  readonly lock = null;
  readonly author = { initials: 'BO', role: 'setup' } as const;

  async set(unit: Settings) {
    if (this.fault !== null) return { ok: false, fault: this.fault } as const;
    this.unit = unit;
    return { ok: true, value: undefined } as const;
  }
}

function show() {
  const desk = new MemoryDesk();
  const user = userEvent.setup();
  const view = render(Unit, { desk });
  const part = (name: string): HTMLElement => {
    const found = view.container.querySelector<HTMLElement>(`#unit-${name}`);
    if (found === null) throw new Error(`no part ${name}`);
    return found;
  };
  /** By its label, in one part of the page: looking through all of it by role takes seconds. */
  const field = (name: string, label: string, row = 0): HTMLInputElement => {
    const labels = [...part(name).querySelectorAll('label')].filter(({ textContent }) =>
      textContent.trim().startsWith(label),
    );
    const control = labels[row]?.control;
    if (!(control instanceof HTMLElement)) throw new Error(`no field ${label}`);
    return control as HTMLInputElement;
  };
  const press = (text: string) => {
    const found = [...view.container.querySelectorAll('button')].find(
      (button) => button.textContent.trim() === text || button.ariaLabel === text,
    );
    if (found === undefined) throw new Error(`no button ${text}`);
    return user.click(found);
  };
  const alerts = () =>
    [...view.container.querySelectorAll('[role="alert"], .faults')]
      .map(({ textContent }) => textContent.replace(/\s+/g, ' ').trim())
      .join(' | ');
  const give = (name: string, label: string, text: string, file = 'file.json') =>
    user.upload(field(name, label), new File([text], file, { type: 'application/json' }));
  const save = () => press('Save the settings');
  return { desk, user, part, field, press, alerts, give, save };
}

const urinal = readFileSync(
  join(import.meta.dirname, '../../procedures/en-US/urinal.json'),
  'utf8',
);

describe('When a unit is set up', () => {
  test('nothing is to be saved at first', () => {
    show();
    expect(screen.queryByText('Save the settings')).toBeNull();
  });

  test('what is changed is in use once it is saved', async () => {
    const { desk, user, field, part, press, save } = show();
    await user.clear(field('name', 'Name of the unit'));
    await user.type(field('name', 'Name of the unit'), 'North wing');
    await user.type(field('name', 'Whom to call'), 'Call extension one two.');
    await user.type(field('beds', 'Weight', 3), '61.5');
    await user.click(field('beds', 'Dysreflexia risk', 3));
    await press('07–19');
    expect(desk.unit).toBe(defaultUnit);
    await save();
    expect(desk.unit).toMatchObject({ name: 'North wing', nurse: 'Call extension one two.' });
    expect(desk.unit.beds[3]).toMatchObject({ weight: 61.5, dysreflexiaRisk: true });
    expect(desk.unit.plan.shifts.map(({ from }) => from)).toEqual(['07:00', '19:00']);
    expect(part('card')).toHaveTextContent('Call extension one two.');
    expect(screen.getByText('Saved. The next walk uses it.')).toBeVisible();
    expect(screen.queryByText('Save the settings')).toBeNull();
  });

  test('changes are taken back as they were', async () => {
    const { desk, field, user, press } = show();
    await press('Remove Bed 6');
    await user.clear(field('beds', 'Bed', 0));
    await press('Take back');
    expect(field('beds', 'Bed', 0)).toHaveValue('Bed 1');
    expect(field('beds', 'Bed', 5)).toHaveValue('Bed 6');
    expect(desk.unit).toBe(defaultUnit);
  });

  test('what can not be used is told at its place, and is gone when it is mended', async () => {
    const { desk, user, field, part, alerts, save } = show();
    await user.clear(field('containers', 'What is the top mark?', 2));
    await user.type(field('containers', 'What is the top mark?', 2), '60');
    await save();
    expect(alerts()).toContain('Row 3: The first line is above the top mark.');
    expect(alerts()).toContain('Not saved: 1 thing to mend.');
    expect(field('containers', 'A line every', 2)).toBeInvalid();
    expect(part('containers')).toHaveAttribute('open');
    expect(part('beds')).not.toHaveAttribute('open');
    expect(desk.unit).toBe(defaultUnit);
    await user.type(field('containers', 'What is the top mark?', 2), '0');
    expect(part('containers').querySelector('.faults')).toBeNull();
    await save();
    expect(desk.unit.containers[2]).toMatchObject({ capacity: 600, lineStep: 100 });
  });

  test('a container that goes leaves no bed behind that names it', async () => {
    const { desk, press, save } = show();
    await press(`Remove ${defaultUnit.containers[0]?.label ?? ''}`);
    await save();
    expect(desk.unit.beds.map(({ container }) => container)).toEqual(Array(6).fill(null));
  });

  test('an added bed has an id of its own', async () => {
    const { desk, part, user, save } = show();
    const add = [...part('beds').querySelectorAll('button')].at(-1)!;
    await user.click(add);
    await save();
    expect(desk.unit.beds.at(-1)).toMatchObject({ id: 'bed-7', label: 'Bed 7' });
  });

  test('a finding is turned down, and back to the default leaves nothing behind', async () => {
    const { desk, part, user, save } = show();
    const little = part('findings').querySelector('select[aria-label="Little for the hours"]')!;
    await user.selectOptions(little, 'Only note it');
    await save();
    expect(desk.unit.findings.severities).toEqual({ under30PerHour: 'note' });
    await user.selectOptions(little, 'Say “tell the nurse”');
    await save();
    expect(desk.unit.findings.severities).toEqual({});
  });

  test('a fixed finding has nothing to choose, and says so', () => {
    const { part } = show();
    expect(part('findings').querySelector('[aria-label="Nothing came"] select')).toBeNull();
    expect(part('findings').querySelector('[aria-label="Nothing came"]')).toHaveTextContent(
      'Say “tell the nurse” Fixed. A unit can not turn this down.',
    );
  });

  test('a limit in tenths is written as people write it', async () => {
    const { desk, user, field, save } = show();
    const limit = field('findings', 'Under (mL/kg/h)');
    expect(limit).toHaveValue(0.5);
    await user.clear(limit);
    await user.type(limit, '0.7');
    await save();
    expect(desk.unit.findings.perKgTenths).toBe(7);
  });

  test('a device that does not keep it is told, and the change stays', async () => {
    const { desk, user, field, alerts, save } = show();
    desk.fault = 'storage_full';
    await user.type(field('name', 'Name of the unit'), ' two');
    await save();
    expect(alerts()).toContain('Not saved. This device has no room left');
    expect(field('name', 'Name of the unit')).toHaveValue('New unit two');
    expect(desk.unit).toBe(defaultUnit);
  });
});

describe('When the ways of the unit are chosen', () => {
  test('initials by voice, and when a bed is due', async () => {
    const { desk, user, field, save } = show();
    expect(field('roster', 'At the end of a walk, ask for initials by voice')).not.toBeChecked();
    await user.click(field('roster', 'At the end of a walk, ask for initials by voice'));
    await user.clear(field('review', 'A bed is shown as due after'));
    await user.type(field('review', 'A bed is shown as due after'), '6');
    await user.click(field('review', 'Ostomy'));
    await user.click(field('review', 'Urine, pad'));
    await save();
    expect(desk.unit).toMatchObject({
      voiceInitials: true,
      dueAfter: 6,
      dueKinds: ['urineCatheter', 'urineVoided', 'urinePad'],
    });
  });

  test('hours that can not be are told at their place', async () => {
    const { desk, user, field, alerts, save } = show();
    await user.clear(field('review', 'A bed is shown as due after'));
    await user.type(field('review', 'A bed is shown as due after'), '25');
    await save();
    expect(alerts()).toContain('This is too large. The most is 24.');
    expect(field('review', 'A bed is shown as due after')).toBeInvalid();
    expect(desk.unit).toBe(defaultUnit);
  });

  test.each([
    ['rinse', 'Before the reading', 'beforeReading'],
    ['record', 'Before the gloves come off', 'beforeGlovesOff'],
    ['record', 'Gloves off, record, then wash hands', 'beforeHandsWashed'],
    ['rounding', 'Up to the next line', 'up'],
  ] as const)('%s: “%s” is set', async (setting, label, value) => {
    const { desk, user, field, save } = show();
    await user.click(field('orders', label));
    await save();
    expect(desk.unit[setting]).toBe(value);
  });

  test('each of these choices names its source, or that it has none', () => {
    const { part } = show();
    const sources = [...part('orders').querySelectorAll('small')].map((each) =>
      each.textContent.trim(),
    );
    expect(sources).toHaveLength(7);
    for (const source of sources) expect(source).toMatch(/^Source: .{12,}/);
    expect(sources.filter((source) => source.includes('common practice, no source'))).not.toEqual(
      sources,
    );
  });

  test('a serving whose name can not be said is told at once, and no other', async () => {
    const { user, field, part } = show();
    expect(part('servings')).not.toHaveTextContent('can not be said');
    await user.type(field('servings', 'What is served', 2), ' 2 go');
    expect(part('servings')).toHaveTextContent('These can not be said: “Juice 2 go”.');
    await user.clear(field('servings', 'What is served', 2));
    await user.type(field('servings', 'What is served', 2), 'Plum juice');
    expect(part('servings')).not.toHaveTextContent('can not be said');
  });

  test('every finding that a unit may weigh can be set to each weight', () => {
    const { part } = show();
    const choices = [...part('findings').querySelectorAll('select[aria-label]')].map((select) => [
      select.getAttribute('aria-label'),
      [...select.querySelectorAll('option')].map(({ value }) => value),
    ]);
    expect(choices).toHaveLength(freeCodes.length);
    for (const [, values] of choices) expect(values).toEqual(['ask', 'tell', 'note']);
  });
});

describe('When the ear is chosen', () => {
  test('the remote one is not set before its warning was agreed to', async () => {
    const { desk, user, field, alerts, press, save } = show();
    await user.click(field('ear', 'The browser’s remote engine'));
    expect(alerts()).toContain('is sent to the maker of the browser');
    expect(screen.queryByText('Save the settings')).toBeNull();
    await press('Our facility has agreed. Use the remote engine.');
    await save();
    expect(desk.unit.ear).toBe('remote');
  });

  test('keeping sound on the device leaves it as it was', async () => {
    const { user, field, press } = show();
    await user.click(field('ear', 'The browser’s remote engine'));
    await press('Keep sound on this device');
    expect(field('ear', 'The best ear')).toBeChecked();
    expect(screen.queryByText('Save the settings')).toBeNull();
  });

  test('a file that asks for the remote one does not switch it on', async () => {
    const { desk, give, alerts, save } = show();
    await give(
      'file',
      'Take in a settings file',
      unitText({ ...defaultUnit, name: 'East', ear: 'remote' }),
    );
    await expect.poll(alerts).toContain('The file asks for the remote engine.');
    await save();
    expect(desk.unit).toMatchObject({ name: 'East', ear: 'auto' });
  });
});

describe('When a settings file is taken in', () => {
  test('it is looked over first, and used when it is saved', async () => {
    const { desk, give, field, save } = show();
    await give(
      'file',
      'Take in a settings file',
      unitText({ ...defaultUnit, name: 'West' }),
      'west.json',
    );
    expect(
      await screen.findByText('west.json is read. Look it over, then save.'),
    ).toBeInTheDocument();
    expect(field('name', 'Name of the unit')).toHaveValue('West');
    expect(desk.unit).toBe(defaultUnit);
    await save();
    expect(readUnit(unitText(desk.unit))).toMatchObject({ ok: true, unit: { name: 'West' } });
  });

  test('a broken one is told by line and path, and nothing of it is used', async () => {
    const { give, alerts, field } = show();
    const text = unitText({ ...defaultUnit, name: 'West' });
    const line = text.split('\n').findIndex((each) => each.includes('"ear"')) + 1;
    await give('file', 'Take in a settings file', text.replace('"ear": "auto"', '"ear": "far"'));
    await expect
      .poll(alerts)
      .toContain(`Line ${line} ear This has to be one of: auto, bundled, typed, remote.`);
    expect(field('name', 'Name of the unit')).toHaveValue('New unit');
  });
});

describe('When a procedure file is taken in', () => {
  test('a good one is listed, and used when it is saved', async () => {
    const { desk, give, part, save } = show();
    await give('procedures', 'Take in a procedure file', urinal);
    await expect.poll(() => part('procedures').textContent).toContain('stands in for ours');
    await save();
    expect(desk.unit.procedures.map(({ id }) => id)).toEqual(['urinal']);
  });

  test('a broken one is told line by line, and nothing of it is used', async () => {
    const { give, alerts } = show();
    const lines = urinal.split('\n');
    const at = lines.findIndex((line) => line.includes('"fluid"'));
    lines[at] = '  "fluid": "oralFluid",';
    await give('procedures', 'Take in a procedure file', lines.join('\n'), 'ours.json');
    await expect.poll(alerts).toContain('ours.json: 1 fault. Nothing of it is used.');
    expect(alerts()).toContain(`Line ${at + 1} fluid`);
    expect(screen.queryByText('Save the settings')).toBeNull();
  });
});

describe('When the card is shown', () => {
  test('it has the phrases of the bedside', () => {
    const { part } = show();
    const card = part('card').textContent;
    expect(card).toContain('“Hold on”');
    expect(card).toContain('“Three hundred fifty”');
  });
});
