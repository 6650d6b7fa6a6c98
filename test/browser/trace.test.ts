import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { randomStream } from '../../src/core/random.ts';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());

const RATE = 20_000;
const SECONDS = 6;

/** Steady at 100 nA, then a second jet (the square root of two of it). Invented. */
function twoJets(): Buffer {
  const random = randomStream(5, 'two jets');
  const lines = ['# invented', 'time_s;current_nA'];
  for (let k = 0; k < RATE * SECONDS; k++) {
    const level = k < (RATE * SECONDS) / 2 ? 100 : 141.4;
    lines.push(`${(k / RATE).toFixed(6)};${(level + 0.6 * random.normal()).toFixed(3)}`);
  }
  return Buffer.from(lines.join('\n'));
}

it('reads a trace in the browser: verdict, regimes, zoom to single samples, exports', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  await page
    .getByLabel('Choose a trace')
    .setInputFiles({ name: 'two-jets.csv', mimeType: 'text/csv', buffer: twoJets() });
  await page.getByRole('heading', { name: 'two-jets.csv' }).waitFor();
  await page.getByText('INVENTED DATA').waitFor();
  await page.getByText('120 000 samples at').waitFor();
  // The bandwidth is not known: steady may not stand alone.
  expect(await page.locator('.verdict').textContent()).toMatch(/below|not excluded/);
  const regimes = page.getByRole('region', { name: 'Regimes along time' }).getByRole('button');
  expect(await regimes.count()).toBeGreaterThan(0);
  const span = page.locator('[data-span]');
  const whole = await span.textContent();
  for (let k = 0; k < 7; k++) {
    const before = await span.textContent();
    await page.getByRole('button', { name: 'Zoom in' }).click();
    await expect.poll(() => span.textContent()).not.toBe(before);
  }
  expect(await span.textContent()).toMatch(/µs$/);
  const redraws = await page.evaluate(() => performance.getEntriesByName('current redraw').length);
  expect(redraws).toBeGreaterThan(3);
  await page.getByRole('button', { name: 'Whole trace' }).click();
  await expect.poll(() => span.textContent()).toBe(whole);
  await regimes.first().click();
  await expect.poll(() => span.textContent()).not.toBe(whole);

  const saved = async (name: string) => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name, exact: true }).click(),
    ]);
    return readFile(await download.path(), 'utf8');
  };
  expect(await saved('Windows as CSV')).toMatch(/^start_s,end_s,regime/);
  expect(await saved('Spectrum as SVG')).toMatch(/^<svg[\s\S]*<\/svg>/);
  const reading = JSON.parse(await saved('Reading as JSON'));
  expect(reading.samples).toBe(RATE * SECONDS);
  expect(trouble).toEqual([]);
  await close();
});

it('asks for what a table does not say, and reads it once it is told', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  const rows = Array.from(
    { length: 4000 },
    (_, k) => `${(k / 1000).toFixed(3)},${(50 + (k % 3)).toFixed(2)}`,
  );
  const buffer = Buffer.from(`time_s,current\n${rows.join('\n')}`);
  await page.getByLabel('Choose a trace').setInputFiles({ name: 'bare.csv', mimeType: 'text/csv', buffer });
  await page.locator('.fault').filter({ hasText: /unit/ }).waitFor();
  await page.getByText('What the file does not say by itself').click();
  await page.getByLabel('Its unit').fill('nA');
  await page.getByRole('button', { name: 'Read again with these' }).click();
  await page.getByText('4 000 samples at').waitFor();
  expect(trouble).toEqual([]);
  await close();
});
