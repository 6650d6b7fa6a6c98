/** A bench in a folder of its own, its server and a quiet browser, for benchmarks of the pages. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { openBench } from '../../src/app/index.ts';
import { startServer, webFolder } from '../../src/server/index.ts';
import { findBrowser, quietArgs } from '../../tools/find-browser.mjs';

export async function benchPage(name: string) {
  const folder = mkdtempSync(join(tmpdir(), `steadycone-${name}-`));
  const bench = await openBench(join(folder, 'bench'));
  const server = await startServer({ bench, port: 0, webRoot: webFolder() });
  const browser = await chromium.launch({ executablePath: await findBrowser(), args: quietArgs });
  return {
    folder,
    bench,
    address: server.address,
    browser,
    async page() {
      const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
      // The loader that runs a benchmark wraps named functions, also those that the page is given.
      await page.addInitScript({ content: 'globalThis.__name = (f) => f;' });
      return page;
    },
    async close() {
      await browser.close();
      await server.close();
      await bench.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
