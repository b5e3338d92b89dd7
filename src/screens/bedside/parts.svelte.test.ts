import { render, screen } from '@testing-library/svelte';
import { tick } from 'svelte';
import { describe, expect, test } from 'vitest';
import { loadedBy } from '../../../tests/support/fakeEngineHost.ts';
import { graduate, shortProcedure } from '../../../tests/support/walkBench.ts';
import { earLoading } from '../../app/earLoading.svelte.ts';
import type { WalkSession } from '../../app/WalkSession.svelte.ts';
import { millilitres } from '../../measure/volume.ts';
import Cylinder from './Cylinder.svelte';
import EarLamp from './EarLamp.svelte';
import NumberView from './NumberView.svelte';
import StepView from './StepView.svelte';
import WalkNotices from './WalkNotices.svelte';

const step = shortProcedure.steps[1]!;

describe('When a step is shown', () => {
  test('the call is the heading, with its place and the state of the hands', () => {
    render(StepView, { step, index: 1, count: 5 });
    expect(screen.getByRole('heading', { level: 1 })).toHaveTextContent('Read the level.');
    expect(screen.getByText('Step 2 of 5')).toBeVisible();
    expect(screen.getByText('Gloves on: touch nothing')).toBeVisible();
    expect(screen.queryByText('Must not be missed')).toBeNull();
  });

  test('a critical step with bare hands says both', () => {
    render(StepView, { step: { ...step, critical: true, gloved: false }, index: 4, count: 5 });
    expect(screen.getByText('Must not be missed')).toBeVisible();
    expect(screen.getByText('No gloves')).toBeVisible();
  });
});

describe('When the ear’s model is still on its way', () => {
  const told = /The ear is still loading/;
  const session = (hears: boolean) => {
    const context = { keepFailing: false, deaf: null, poor: null, talk: null };
    const view = { current: { context, matches: () => false } };
    return {
      view,
      hears,
      isSpoken: true,
      expectation: { state: 'step' },
    } as unknown as WalkSession;
  };

  test('the walk says so until it hears, or until nothing is fetched any more', async () => {
    let arrive: () => void = () => undefined;
    const over = earLoading.of(loadedBy(new Promise<void>((done) => (arrive = done))));
    const { rerender } = render(WalkNotices, { session: session(false) });
    expect(screen.getByText(told)).toBeVisible();
    await rerender({ session: session(true) });
    expect(screen.queryByText(told)).toBeNull();
    await rerender({ session: session(false) });
    arrive();
    await over;
    await tick();
    expect(screen.queryByText(told)).toBeNull();
  });

  test('a model that does not come is no longer said to be loading', async () => {
    await earLoading.of(loadedBy(Promise.reject(new Error('model_missing'))));
    render(WalkNotices, { session: session(false) });
    expect(screen.queryByText(told)).toBeNull();
  });
});

describe('When the ear is shown', () => {
  test.each([
    ['listening', 'circle', 2],
    ['speaking', 'path', 1],
    ['held', 'path', 1],
    ['deaf', 'circle', 1],
    ['waiting', 'path', 1],
  ] as const)('%s has a shape of its own and its word', (state, shape, count) => {
    const { container } = render(EarLamp, { state, label: `now ${state}` });
    expect(screen.getByText(`now ${state}`)).toBeVisible();
    expect(container.querySelectorAll(shape)).toHaveLength(count);
  });

  test('no two states are drawn alike', () => {
    const drawn = (['listening', 'speaking', 'held', 'deaf', 'waiting'] as const).map(
      (state) => render(EarLamp, { state, label: state }).container.querySelector('svg')?.innerHTML,
    );
    expect(new Set(drawn).size).toBe(5);
  });

  test('the ring widens with the sound', () => {
    const radius = (level: number) =>
      render(EarLamp, { state: 'listening', label: 'l', level })
        .container.querySelector('.pulse')
        ?.getAttribute('r');
    expect(Number(radius(1))).toBeGreaterThan(Number(radius(0)));
  });
});

describe('When the cylinder is drawn', () => {
  const { capacity, lineStep } = graduate;
  const draw = (level: number | null, open = false) =>
    render(Cylinder, { capacity, lineStep, level, open, label: 'the graduate' }).container;

  test('it has each line of the container, and figures that are its lines', () => {
    const drawn = draw(null);
    expect(drawn.querySelectorAll('.line')).toHaveLength(40);
    const figures = [...drawn.querySelectorAll('text')].map(({ textContent }) =>
      Number(textContent),
    );
    expect(figures).toEqual([100, 200, 300, 400, 500, 600, 700, 800, 900, 1000]);
    expect(drawn.querySelector('.fluid')).toBeNull();
    expect(screen.getByRole('img', { name: 'the graduate' })).toBeInTheDocument();
  });

  test('the level stands on its line, and never above the glass', () => {
    const edge = (level: number) => draw(level).querySelector('.edge')?.getAttribute('y1');
    const lines = [...draw(null).querySelectorAll('.line')];
    expect(edge(350)).toBe(lines[13]?.getAttribute('y1'));
    expect(edge(4000)).toBe(edge(1000));
  });

  test('what is not agreed to has a broken edge', () => {
    expect(draw(350, true).querySelector('.edge.open')).not.toBeNull();
    expect(draw(350).querySelector('.edge.open')).toBeNull();
  });
});

describe('When a number is shown', () => {
  const view = {
    container: graduate,
    amount: millilitres(350),
    fills: [millilitres(350)],
    notes: [],
    standing: 'kept',
    candidates: [],
  } as const;

  test('a kept one says so, with its unit, and the cylinder is drawn at it', () => {
    render(NumberView, view);
    expect(screen.getByText('Kept')).toBeVisible();
    expect(screen.getByText('350 mL')).toBeVisible();
    expect(screen.getByRole('img')).toHaveAccessibleName('Graduate, 1,000 mL, drawn at 350 mL');
  });

  test('one under discussion is to be agreed to', () => {
    render(NumberView, { ...view, standing: 'open' });
    expect(screen.getByText('To be agreed to')).toBeVisible();
  });

  test('of several fills the parts stand beside the sum, and the level is the last', () => {
    const fills = [millilitres(950), millilitres(430)];
    render(NumberView, { ...view, amount: millilitres(1380), fills });
    expect(screen.getByText('1,380 mL')).toBeVisible();
    expect(screen.getByText('950 mL + 430 mL')).toBeVisible();
    expect(screen.getByRole('img')).toHaveAccessibleName(/drawn at 430 mL$/);
  });

  test('an open one shows what it may be, and no number where none was heard', () => {
    const parked = { ...view, amount: null, fills: [], standing: 'parked' } as const;
    render(NumberView, { ...parked, candidates: [millilitres(315), millilitres(350)] });
    expect(screen.getByText('315 mL / 350 mL')).toBeVisible();
    render(NumberView, parked);
    expect(screen.getByText('?')).toBeVisible();
  });

  test('what is read from no lines has no cylinder', () => {
    render(NumberView, { ...view, container: null, notes: ['412 g wet less 38 g dry'] });
    expect(screen.queryByRole('img')).toBeNull();
    expect(screen.getByText('412 g wet less 38 g dry')).toBeVisible();
  });
});
