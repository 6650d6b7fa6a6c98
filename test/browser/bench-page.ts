/**
 * A real browser before a real server: the built server over an empty bench in a folder of its own. Each page is watched:
 * a request that leaves 127.0.0.1, an error in the console or an uncaught error fails the test that opened it.
 */
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { findBrowser, quietArgs } from '../../tools/find-browser.mjs';

export interface BenchAndBrowser {
  address: string;
  /** Reads the run files of a folder into the bench behind the page, as `read --queue` does. */
  readQueue: (folder: string, label: string) => Promise<void>;
  open: (path: string, options?: PageOptions) => Promise<WatchedPage>;
  close: () => Promise<void>;
}

export interface PageOptions {
  width?: number;
  height?: number;
  scheme?: 'light' | 'dark';
}

export interface WatchedPage {
  page: Page;
  /** What went wrong so far; empty when nothing did. */
  trouble: string[];
  close: () => Promise<void>;
}

export const repository = fileURLToPath(new URL('../../', import.meta.url));
/** A real run, packaged with the development dependency mzdata. */
export const realRun = join(repository, 'node_modules/mzdata/src/mzxml/lcMsMs.mzXML');

export async function startBenchAndBrowser(): Promise<BenchAndBrowser> {
  if (!existsSync(join(repository, 'dist/web/index.html')))
    throw new Error('missing dist/web: not built; expected `npm run build` to have run');
  const { openBench, readQueue, runFilesOf } = await built<typeof import('../../src/app/index.ts')>('app');
  const { startServer } = await built<typeof import('../../src/server/index.ts')>('server');
  const home = await mkdtemp(join(tmpdir(), 'steadycone-browser-'));
  const bench = await openBench(home);
  const server = await startServer({ bench, port: 0 });
  const browser = await chromium.launch({ executablePath: await findBrowser(), args: quietArgs });
  return {
    address: server.address,
    readQueue: async (folder, label) => {
      await readQueue(await runFilesOf(folder), { bench, label });
    },
    open: (path, options) => openWatched(browser, server.address, path, options),
    close: async () => {
      await browser.close();
      await server.close();
      await bench.close();
      await rm(home, { recursive: true, force: true });
    },
  };
}

function built<T>(room: string): Promise<T> {
  return import(new URL(`../../dist/${room}/index.js`, import.meta.url).href) as Promise<T>;
}

async function openWatched(
  browser: Browser,
  address: string,
  path: string,
  { width = 1440, height = 900, scheme = 'light' }: PageOptions = {},
): Promise<WatchedPage> {
  const context = await browser.newContext({
    viewport: { width, height },
    colorScheme: scheme,
    reducedMotion: 'reduce',
    acceptDownloads: true,
  });
  const page = await context.newPage();
  const trouble: string[] = [];
  page.on('request', (request) => {
    const url = new URL(request.url());
    if (url.protocol.startsWith('http') && url.hostname !== '127.0.0.1')
      trouble.push(`left this computer: ${url.hostname}`);
  });
  page.on('console', (message) => {
    if (message.type() === 'error') trouble.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => trouble.push(`uncaught: ${error.message}`));
  await page.goto(`${address}${path}`);
  return { page, trouble, close: () => context.close() };
}
