import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, join } from 'node:path';

const onLinux = [
  'google-chrome-stable',
  'google-chrome',
  'chromium',
  'chromium-browser',
  'microsoft-edge-stable',
  'microsoft-edge',
];

const onMac = [
  'Google Chrome.app/Contents/MacOS/Google Chrome',
  'Chromium.app/Contents/MacOS/Chromium',
  'Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
];

const onWindows = [
  'Google/Chrome/Application/chrome.exe',
  'Chromium/Application/chrome.exe',
  'Microsoft/Edge/Application/msedge.exe',
];

/**
 * Find the Chromium kind of browser that the journeys run in, and install Debian's where we may.
 *
 * `GLOVESIDE_BROWSER` or `CHROME_PATH` name one; otherwise the usual places are looked through.
 *
 * @throws one line that says what to install, when there is none
 */
export function findBrowser(): string {
  const named = process.env.GLOVESIDE_BROWSER ?? process.env.CHROME_PATH;
  if (named !== undefined && named !== '') {
    if (runs(named)) return named;
    throw new Error(`browser_missing: no program can be run at ${named}`);
  }
  const found = usualPlaces().find(runs);
  if (found !== undefined) return found;
  if (installOnDebian()) {
    const installed = usualPlaces().find(runs);
    if (installed !== undefined) return installed;
  }
  throw new Error(
    'browser_missing: install Chrome, Chromium or Edge (on Debian: apt-get install chromium), or name one in GLOVESIDE_BROWSER',
  );
}

/** Every path where such a browser usually stands, the likeliest first. */
export function usualPlaces(
  platform: NodeJS.Platform = process.platform,
  environment: NodeJS.ProcessEnv = process.env,
): string[] {
  if (platform === 'darwin') {
    return ['/Applications', join(homedir(), 'Applications')].flatMap((folder) =>
      onMac.map((app) => join(folder, app)),
    );
  }
  if (platform === 'win32') {
    return ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA']
      .map((name) => environment[name])
      .filter((folder) => folder !== undefined)
      .flatMap((folder) => onWindows.map((app) => join(folder, app)));
  }
  const folders = [
    ...(environment.PATH ?? '').split(delimiter).filter((folder) => folder !== ''),
    '/usr/bin',
    '/snap/bin',
    '/opt/google/chrome',
  ];
  return onLinux.flatMap((name) => [...new Set(folders)].map((folder) => join(folder, name)));
}

function runs(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Only root on Debian may, so a developer's own machine is never changed. */
function installOnDebian(): boolean {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return false;
  if (!existsSync('/etc/debian_version')) return false;
  console.log('No browser found: installing Debian’s chromium.');
  const environment = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  for (const words of [['update'], ['install', '-y', '--no-install-recommends', 'chromium']]) {
    const result = spawnSync('apt-get', words, {
      env: environment,
      stdio: ['ignore', 'ignore', 'inherit'],
      timeout: 15 * 60_000,
    });
    if (result.status !== 0) return false;
  }
  return true;
}
