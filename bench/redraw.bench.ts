/**
 * Redraws in a real browser, as the pages measure them themselves: a run with 100 000 MS1 scans (`trace redraw`), and a current
 * trace of 4 million samples with a walk's staircase over it (`current redraw`). Each is opened, zoomed in, moved and zoomed out. Seeded,
 * invented data; target 50 ms a redraw.
 */
import type { Page } from 'playwright-core';
import { randomStream } from '../src/core/random.ts';
import { readRun } from '../src/evidence/index.ts';
import type { RunRecord } from '../src/formats/index.ts';
import { benchPage } from './peers/bench-page.ts';
import { median, timed } from './timing.ts';

const SCANS = 100_000;
const ROUNDS = 20;
const CURRENT_SAMPLES = 4_000_000;
const CURRENT_RATE_HZ = 100_000;

const record = longRun();
let reading = readRun(record);
const evidence_ms = await timed(() => {
  reading = readRun(record);
});
const open = await benchPage('redraw');
try {
  const { bench } = open;
  const stamp = bench.stamp('bench', true);
  const id = await bench.store.atomically(async (writer) => {
    const run = await writer.addRun(
      { sha256: 'f'.repeat(64), name: 'long.mzML', bytes: 1, format: 'mzML', ms1_count: SCANS },
      stamp,
    );
    return (await writer.addReading(run.id, { title: 'long', document: reading }, stamp)).id;
  });
  const page = await open.page();
  await page.goto(`${open.address}/read/${id}`);
  await page.getByRole('button', { name: 'Zoom in' }).waitFor();
  await page.waitForTimeout(500);
  await page.evaluate(() => performance.clearMeasures());
  for (let i = 0; i < ROUNDS; i++)
    for (const name of ['Zoom in', 'Later', 'Earlier', 'Zoom out', 'Whole run'])
      await page.getByRole('button', { name }).click({ force: true });
  process.stdout.write(`${SCANS} MS1 scans, evidence ${evidence_ms.toFixed(0)} ms\n`);
  await told(page, 'trace redraw');
  await currentRedraws(page);
} finally {
  await open.close();
}

/** Steps of 0.5 s from 1300 V up and down again; the last zoom ends at single samples. */
async function currentRedraws(page: Page): Promise<void> {
  await page.goto(`${open.address}/trace`);
  const sidecar = JSON.stringify({
    format: 'int16',
    rate_Hz: CURRENT_RATE_HZ,
    channels: [{ quantity: 'current', unit: 'nA', scale: 0.01 }],
  });
  await page.getByLabel('Choose a trace').setInputFiles([
    { name: 'long.bin', mimeType: 'application/octet-stream', buffer: longCurrent() },
    { name: 'long.bin.json', mimeType: 'application/json', buffer: Buffer.from(sidecar) },
  ]);
  await page.getByRole('button', { name: 'Zoom in' }).waitFor({ timeout: 300_000 });
  const seconds = CURRENT_SAMPLES / CURRENT_RATE_HZ;
  const steps = Array.from(
    { length: 12 },
    (_, k) => `${(k * seconds) / 12}=${1300 + 100 * Math.min(k, 11 - k)}`,
  );
  await page.getByText('Voltage walk: where').click();
  await page.getByLabel(/^Steps: second=volts/).fill(steps.join(', '));
  await page.getByRole('button', { name: 'Read the voltage walk' }).click();
  await page.locator('[data-walk="voltage"]').waitFor({ timeout: 300_000 });
  await page.evaluate(() => performance.clearMeasures());
  for (let i = 0; i < ROUNDS; i++)
    for (const name of ['Zoom in', 'Later', 'Zoom in', 'Earlier', 'Zoom in', 'Zoom out', 'Whole trace']) {
      await page.getByRole('button', { name }).click({ force: true });
      await page.waitForTimeout(60);
    }
  process.stdout.write(`${CURRENT_SAMPLES} samples of a current with a walk over them\n`);
  await told(page, 'current redraw');
}

async function told(page: Page, measure: string): Promise<void> {
  const ms = await page.evaluate(
    (name) => performance.getEntriesByName(name).map((entry) => entry.duration),
    measure,
  );
  ms.sort((a, b) => a - b);
  process.stdout.write(
    `${ms.length} redraws in Chromium, 1440 px: median ${median(ms).toFixed(1)} ms, 95 % ${ms[Math.floor(ms.length * 0.95)]?.toFixed(1)} ms, worst ${ms.at(-1)?.toFixed(1)} ms (target 50)\n`,
  );
}

function longCurrent(): Buffer {
  const random = randomStream(12, 'current redraw');
  const samples = Int16Array.from(
    { length: CURRENT_SAMPLES },
    (_, k) => 100 * (120 + 10 * Math.sin(k / 50_000) + random.normal()),
  );
  return Buffer.from(samples.buffer);
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
