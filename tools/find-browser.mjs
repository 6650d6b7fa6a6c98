// Finds a Chromium-family browser for the tests; installs one only where none stands.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * Path of an executable: STEADYCONE_BROWSER; what is installed; Debian's chromium when root on Debian or Ubuntu; the test
 * driver's own download. Throws one line with the cure where nothing helps.
 */
export async function findBrowser() {
  const stated = process.env.STEADYCONE_BROWSER?.trim();
  if (stated) {
    if (existsSync(stated)) return stated;
    throw new Error(
      `invalid STEADYCONE_BROWSER: ${stated} does not exist; expected the path of a Chromium-family browser`,
    );
  }
  const found = installed() ?? fromDebian() ?? fromDriver();
  if (found) return found;
  throw new Error(
    'missing browser: no Chromium-family browser found and none could be installed; expected one, or its path in STEADYCONE_BROWSER',
  );
}

function installed() {
  return usualPlaces().find((path) => existsSync(path));
}

function usualPlaces() {
  const { env } = process;
  if (process.platform === 'win32') {
    const roots = [env.PROGRAMFILES, env['PROGRAMFILES(X86)'], env.LOCALAPPDATA].filter(Boolean);
    const tails = [
      ['Google', 'Chrome', 'Application', 'chrome.exe'],
      ['Chromium', 'Application', 'chrome.exe'],
      ['Microsoft', 'Edge', 'Application', 'msedge.exe'],
    ];
    return tails.flatMap((tail) => roots.map((root) => join(root, ...tail)));
  }
  if (process.platform === 'darwin') {
    const names = ['Google Chrome', 'Chromium', 'Microsoft Edge'];
    return names.flatMap((name) =>
      ['/Applications', join(homedir(), 'Applications')].map((root) =>
        join(root, `${name}.app`, 'Contents', 'MacOS', name),
      ),
    );
  }
  const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge'];
  const folders = [...(env.PATH ?? '').split(delimiter), '/usr/bin', '/usr/local/bin', '/snap/bin'].filter(
    Boolean,
  );
  return [
    ...names.flatMap((name) => folders.map((folder) => join(folder, name))),
    '/opt/google/chrome/chrome',
    '/opt/microsoft/msedge/msedge',
    ...driverBrowsers(),
  ];
}

/** Browsers that the test driver downloaded earlier. */
function driverBrowsers() {
  const cache = process.env.PLAYWRIGHT_BROWSERS_PATH ?? join(homedir(), '.cache', 'ms-playwright');
  if (!existsSync(cache)) return [];
  return readdirSync(cache)
    .filter((name) => /^chromium-\d+$/.test(name))
    .flatMap((name) =>
      ['chrome-linux', 'chrome-linux64'].map((folder) => join(cache, name, folder, 'chrome')),
    );
}

function fromDebian() {
  if (process.platform !== 'linux' || process.getuid?.() !== 0 || !existsSync('/etc/os-release'))
    return undefined;
  if (!/^ID(_LIKE)?=.*(debian|ubuntu)/m.test(readFileSync('/etc/os-release', 'utf8'))) return undefined;
  process.stdout.write('No browser found; installing chromium with apt-get …\n');
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const options = { stdio: ['ignore', 'ignore', 'inherit'], env };
  const install = ['install', '-y', '--no-install-recommends', 'chromium'];
  // The package lists of a fresh machine may be absent or old: try, refresh once, try again.
  if (spawnSync('apt-get', install, options).status !== 0) {
    spawnSync('apt-get', ['update'], options);
    spawnSync('apt-get', install, options);
  }
  return installed();
}

function fromDriver() {
  const cli = fileURLToPath(new URL('../node_modules/playwright-core/cli.js', import.meta.url));
  if (!existsSync(cli)) return undefined;
  process.stdout.write("No browser found; downloading the test driver's own chromium …\n");
  const { status } = spawnSync(process.execPath, [cli, 'install', 'chromium'], { stdio: 'inherit' });
  if (status !== 0) return undefined;
  const ask =
    "import('playwright-core').then(({ chromium }) => process.stdout.write(chromium.executablePath()))";
  const path = spawnSync(process.execPath, ['-e', ask], {
    cwd: fileURLToPath(new URL('..', import.meta.url)),
    encoding: 'utf8',
  }).stdout;
  return path && existsSync(path) ? path : undefined;
}

/**
 * What the test driver itself turns off, then the browser's own address-bar and tab surfaces: each new window loads them as
 * pages of their own, half of its processor time. The driver's names are repeated because the last list given is the one used.
 */
const withoutFeatures = [
  'AimEnabled',
  'AvoidCorsURLLoaderRestartOnRedirect',
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsFirstBalancedModeAutoEnable',
  'HttpsUpgrades',
  'LensOverlay',
  'MediaRouter',
  'NetworkTimeServiceQuerying',
  'OptimizationHints',
  'PaintHolding',
  'PreconnectToSearch',
  'TcpPortRandomizationWin',
  'ThirdPartyStoragePartitioning',
  'msEdgeUpdateLaunchServicesPreferredVersion',
  'msForceBrowserSignIn',
  'WebUIOmniboxPopup',
  'WebUIOmniboxAimPopup',
  'WebUIOmniboxFullPopup',
  'WebUITabStrip',
];

/** Nothing of the browser's own may go out while requests are counted or time is taken. */
export const quietArgs = [
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
  `--disable-features=${withoutFeatures.join(',')}`,
];
