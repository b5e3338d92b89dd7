import { describe, expect, it } from 'vitest';
import { usualPlaces } from './findBrowser.ts';

describe('When a browser is looked for', () => {
  it.each([
    ['linux', { PATH: '/opt/tools:/usr/bin' }, '/opt/tools/chromium'],
    ['linux', { PATH: '' }, '/usr/bin/google-chrome-stable'],
    ['linux', {}, '/usr/bin/microsoft-edge-stable'],
    ['darwin', {}, '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome'],
    ['win32', { PROGRAMFILES: 'C:/Programs' }, 'C:/Programs/Microsoft/Edge/Application/msedge.exe'],
  ] as const)('on %s with %o, %s is a place', (platform, environment, place) => {
    expect(usualPlaces(platform, environment)).toContain(place);
  });

  it('looks in no place twice', () => {
    const places = usualPlaces('linux', { PATH: '/usr/bin:/usr/bin:/bin' });
    expect(new Set(places).size).toBe(places.length);
  });
});
