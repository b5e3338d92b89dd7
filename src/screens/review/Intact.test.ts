import { render, screen } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { describe, expect, test } from 'vitest';
import { digest } from '../../../tests/support/ledgerStory.ts';
import { RecordStory } from '../../../tests/support/recordStory.ts';
import { RecordCheck } from '../../app/RecordCheck.svelte.ts';
import Intact from './Intact.svelte';

const press = (name: string) => screen.getByRole('button', { name });
const saying = (text: RegExp) =>
  expect.poll(() => screen.queryByRole('status')?.textContent.replace(/\s+/g, ' ')).toMatch(text);

describe('When it is asked whether the record is intact', () => {
  async function showCheck(story: RecordStory, tampered = false) {
    const read = story.ledger.read.bind(story.ledger);
    if (tampered) {
      story.ledger.read = async (...place) => {
        const page = await read(...place);
        if (!page.ok) return page;
        const events = page.value.events.map((event) =>
          event.type === 'entry.drafted' ? { ...event, bed: 'Bed 9' } : event,
        );
        return { ok: true, value: { ...page.value, events } };
      };
    }
    const check = new RecordCheck({
      ledger: story.ledger,
      digest,
      breathe: () => Promise.resolve(),
      device: null,
    });
    return { check, view: render(Intact, { check }) };
  }

  test('it is told with what was looked at, and can be looked at again', async () => {
    const story = new RecordStory();
    await story.draft(0);
    await story.draft(5);
    await showCheck(story);
    await saying(/Record intact.*2 events of 1 device: none changed/);
    await story.draft(10);
    await userEvent.click(press('Check it all again'));
    await saying(/Record intact.*3 events/);
  });

  test('where it is not, the event is named with device, place and what it now reads', async () => {
    const story = new RecordStory();
    await story.draft(0);
    const [event] = await story.events();
    await showCheck(story, true);
    const alert = await screen.findByRole('alert');
    expect(alert).toHaveTextContent('The record is not intact');
    expect(alert).toHaveTextContent(
      `Device ${event?.device.slice(-6)}, event 1: This event was changed after it was recorded. ` +
        'It now reads: entry drafted, Bed 9, TA, 0701, Mar 2.',
    );
    expect(screen.queryByText('Record intact')).toBeNull();
  });

  test('on the way it shows how far it is and can be stopped, and goes on', async () => {
    const story = new RecordStory();
    for (let n = 0; n < 4; n += 1) await story.draft(n);
    const held: (() => void)[] = [];
    const check = new RecordCheck({
      ledger: story.ledger,
      digest,
      breathe: () => new Promise((done) => held.push(done)),
      device: null,
      part: 2,
    });
    render(Intact, { check });
    await screen.findByText('Checking the record: 2 of 4 events');
    expect(screen.getByRole('progressbar', { name: 'Checking the record' })).toHaveValue(2);
    await userEvent.click(press('Stop'));
    held.pop()?.();
    await screen.findByText('The check was stopped: 2 of 4 events are looked at.');
    await userEvent.click(press('Go on'));
    await saying(/Record intact.*4 events/);
  });

  test('who leaves stops it', async () => {
    const story = new RecordStory();
    for (let n = 0; n < 4; n += 1) await story.draft(n);
    const check = new RecordCheck({
      ledger: story.ledger,
      digest,
      breathe: () => new Promise(() => undefined),
      device: null,
      part: 2,
    });
    const { unmount } = render(Intact, { check });
    await screen.findByText('Checking the record: 2 of 4 events');
    unmount();
    expect(check.stage).toBe('stopped');
  });
});
