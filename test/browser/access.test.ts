/** Every page in light and dark, wide and narrow: axe finds nothing, nothing scrolls sideways, targets fit a gloved finger. */

import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { planHref } from '../../src/web/address.ts';
import { withGradient } from '../../src/web/plan/draft.ts';
import { exampleSetup } from '../../src/web/plan/example-setup.ts';
import { expectAccessible } from './accessible.ts';
import { type BenchAndBrowser, realRun, startBenchAndBrowser } from './bench-page.ts';
import { madeNight } from './made-night.ts';

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
  const headers = { 'content-type': 'application/json' };
  await fetch(`${bench.address}/api/plans`, { method: 'POST', headers, body: JSON.stringify(exampleSetup) });
  await fetch(`${bench.address}/api/runs?name=real.mzXML`, {
    method: 'PUT',
    headers: { 'content-type': 'application/octet-stream' },
    body: new Uint8Array(await readFile(realRun)),
  });
  const night = madeNight(12);
  await bench.readQueue(night.folder, 'tip 7');
  night.remove();
});
afterAll(() => bench?.close());

const pages = [
  { name: 'plan', path: planHref(withGradient(exampleSetup, true)), ready: '.numbers[data-stale="false"]' },
  { name: 'plan with faults', path: planHref({ ...exampleSetup, emitter: {} }), ready: '.caution' },
  { name: 'read', path: '/read', ready: 'input[type=file]:visible' },
  { name: 'a reading', path: '/read/reading-1', ready: '.u-over' },
  { name: 'queues', path: '/queue', ready: '.bench-list li' },
  { name: 'a queue', path: '/queue?of=tip+7', ready: '.queue-picture' },
  { name: 'settle', path: '/settle', ready: 'button[type=submit]' },
  { name: 'trace', path: '/trace', ready: 'input[type=file]' },
  { name: 'bench', path: '/bench', ready: '.bench-list li' },
  { name: 'an entry', path: '/bench/setup-1', ready: 'dl.doc' },
];

for (const scheme of ['light', 'dark'] as const) {
  for (const width of [1440, 390]) {
    describe(`${scheme}, ${width} wide`, () => {
      it.each(pages)('$name', async ({ path, ready }) => {
        const { page, trouble, close } = await bench.open(path, { scheme, width, height: 900 });
        await page.locator(ready).first().waitFor();
        await expectAccessible(
          page,
          width,
          'button:visible, input:visible, select:visible, textarea:visible, nav a, summary:visible',
        );
        expect(trouble).toEqual([]);
        await close();
      });
    });
  }
}
