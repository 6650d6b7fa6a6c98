/**
 * Redraw of a trace with 100 000 MS1 scans in a real browser: the page measures each redraw itself (`trace redraw`); here
 * it is opened, zoomed in, moved and zoomed out. Seeded, invented data; target 50 ms a redraw.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { openBench } from '../src/app/index.ts';
import { randomStream } from '../src/core/random.ts';
import { readRun } from '../src/evidence/index.ts';
import type { RunRecord } from '../src/formats/index.ts';
import { startServer, webFolder } from '../src/server/index.ts';
import { findBrowser } from '../tools/find-browser.mjs';
import { median, timed } from './timing.ts';

const SCANS = 100_000;
const ROUNDS = 20;

const folder = mkdtempSync(join(tmpdir(), 'steadycone-redraw-'));
const record = longRun();
let reading = readRun(record);
const evidence_ms = await timed(() => {
  reading = readRun(record);
});
const bench = await openBench(folder);
const server = await startServer({ bench, port: 0, webRoot: webFolder() });
const browser = await chromium.launch({
  executablePath: await findBrowser(),
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
});
try {
  const stamp = bench.stamp('bench', true);
  const id = await bench.store.atomically(async (writer) => {
    const run = await writer.addRun(
      { sha256: 'f'.repeat(64), name: 'long.mzML', bytes: 1, format: 'mzML', ms1_count: SCANS },
      stamp,
    );
    return (await writer.addReading(run.id, { title: 'long', document: reading }, stamp)).id;
  });
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(`${server.address}/read/${id}`);
  await page.getByRole('button', { name: 'Zoom in' }).waitFor();
  await page.waitForTimeout(500);
  await page.evaluate(() => performance.clearMeasures());
  for (let i = 0; i < ROUNDS; i++)
    for (const name of ['Zoom in', 'Later', 'Earlier', 'Zoom out', 'Whole run'])
      await page.getByRole('button', { name }).click({ force: true });
  const ms = await page.evaluate(() =>
    performance.getEntriesByName('trace redraw').map((entry) => entry.duration),
  );
  ms.sort((a, b) => a - b);
  process.stdout.write(`${SCANS} MS1 scans, evidence ${evidence_ms.toFixed(0)} ms\n`);
  process.stdout.write(
    `${ms.length} redraws in Chromium, 1440 px: median ${median(ms).toFixed(1)} ms, 95 % ${ms[Math.floor(ms.length * 0.95)]?.toFixed(1)} ms, worst ${ms.at(-1)?.toFixed(1)} ms (target 50)\n`,
  );
} finally {
  await browser.close();
  await server.close();
  await bench.close();
  rmSync(folder, { recursive: true, force: true });
}

function longRun(): RunRecord {
  const random = randomStream(11, 'redraw');
  const level = Float64Array.from(
    { length: SCANS },
    (_, i) => 1e8 * (1 + 0.5 * Math.sin(i / 900)) * (0.95 + 0.1 * random.unit()),
  );
  const filled = (value: number) => new Float64Array(SCANS).fill(value);
  return {
    format: 'mzML',
    ms1_count: SCANS,
    time_s: Float64Array.from({ length: SCANS }, (_, i) => i * 0.5),
    tic_stated: level,
    tic_summed: level,
    base_peak: level,
    peak_count: new Uint32Array(SCANS).fill(300),
    injection_ms: level.map((value) => 1e9 / value),
    polarity: new Int8Array(SCANS).fill(1),
    window_low: filled(350),
    window_high: filled(1600),
    analyser: new Uint16Array(SCANS),
    analysers: ['analyser 1'],
    profile: new Uint8Array(SCANS),
    spectra_by_level: [0, SCANS],
    traces: [],
    invented: true,
    warnings: [],
  };
}
