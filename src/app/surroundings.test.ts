import { expect, test } from 'vitest';
import { watchSurroundings } from './surroundings.ts';

function startWatch() {
  const shown: { visibilityState: DocumentVisibilityState } = { visibilityState: 'visible' };
  const page = Object.assign(new EventTarget(), shown);
  const devices = new EventTarget();
  const asked: { state: PermissionState } = { state: 'prompt' };
  const status = Object.assign(new EventTarget(), asked);
  const told: string[] = [];
  const end = watchSurroundings(({ type }) => told.push(type), {
    page,
    devices,
    permission: () => Promise.resolve(status),
  });
  const show = (state: DocumentVisibilityState): void => {
    page.visibilityState = state;
    page.dispatchEvent(new Event('visibilitychange'));
  };
  const allow = (state: PermissionState): void => {
    status.state = state;
    status.dispatchEvent(new Event('change'));
  };
  return { told, end, show, allow, devices };
}

test('When the page is hidden nothing is told, when it is shown again it is', () => {
  const { told, show } = startWatch();
  show('hidden');
  expect(told).toEqual([]);
  show('visible');
  expect(told).toEqual(['page.shown']);
});

test('When a device is plugged in a microphone is offered', () => {
  const { told, devices } = startWatch();
  devices.dispatchEvent(new Event('devicechange'));
  expect(told).toEqual(['microphone.offered']);
});

test('When the microphone is allowed it is offered, when it is taken away it is not', async () => {
  const { told, allow } = startWatch();
  await Promise.resolve();
  allow('denied');
  expect(told).toEqual([]);
  allow('granted');
  expect(told).toEqual(['microphone.offered']);
});

test('When the watch is over nothing is told any more', async () => {
  const { told, end, show, allow, devices } = startWatch();
  await Promise.resolve();
  end();
  show('visible');
  devices.dispatchEvent(new Event('devicechange'));
  allow('granted');
  expect(told).toEqual([]);
});

test('When the browser does not answer for permissions the rest is watched', async () => {
  const devices = new EventTarget();
  const told: string[] = [];
  watchSurroundings(({ type }) => told.push(type), {
    devices,
    permission: () => Promise.reject(new TypeError('no such permission')),
  });
  await Promise.resolve();
  devices.dispatchEvent(new Event('devicechange'));
  expect(told).toEqual(['microphone.offered']);
});
