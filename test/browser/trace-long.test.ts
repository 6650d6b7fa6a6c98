/** Long traces in a real browser: stopped while they are read, left for another, and seen sample by sample out of their file. */
import { mkdtemp, open, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BenchAndBrowser, repository, startBenchAndBrowser } from './bench-page.ts';

/** Too many to be read before a hand could press Stop. */
const ENDLESS = 400_000_000;
/** More than the page keeps, so that single samples come from the file. */
const LONG = 17_500_000;
const RATE_HZ = 100_000;
/** Middle of the stretch where every other sample is this high, wide enough to be met by a pixel of the whole trace; zero elsewhere. */
const COMB_AT = 12_345_678;
const COMB_SAMPLES = 1 << 16;
const COMB_NA = 250;
const STEP_NA = 0.01;

let bench: BenchAndBrowser;
let folder: string;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
  folder = await mkdtemp(join(tmpdir(), 'steadycone-trace-long-'));
});
afterAll(async () => {
  await bench?.close();
  await rm(folder, { recursive: true, force: true });
});

/** A file of zeros that takes no room on the disk, but for the comb. Invented. */
async function rawTrace(name: string, samples: number): Promise<string[]> {
  const path = join(folder, name);
  const file = await open(path, 'w');
  await file.truncate(2 * samples);
  const comb = Int16Array.from({ length: COMB_SAMPLES }, (_, k) => (k % 2) * (COMB_NA / STEP_NA));
  await file.write(new Uint8Array(comb.buffer), 0, 2 * COMB_SAMPLES, 2 * (COMB_AT - COMB_SAMPLES / 2));
  await file.close();
  const channels = [{ quantity: 'current', unit: 'nA', scale: STEP_NA }];
  await writeFile(
    `${path}.json`,
    JSON.stringify({ format: 'int16', rate_Hz: RATE_HZ, channels, invented: true }),
  );
  return [path, `${path}.json`];
}

/** Of the field's columns; between two samples some pixels stay bare. */
const COLUMNS_INKED = 0.25;

/** Columns of the field in which the line is drawn within its highest or lowest eighth. */
function inked(page: Page, part: 'top' | 'bottom'): Promise<number> {
  return page.locator('.current-trace canvas').evaluate((element, top) => {
    const canvas = element as HTMLCanvasElement;
    const [from, tall] = [12, canvas.height - 44 - 12];
    const eighth = Math.floor(tall / 8);
    const [left, width] = [70, canvas.width - 70 - 14];
    const { data } = canvas
      .getContext('2d')!
      .getImageData(left, top ? from : from + tall - eighth, width, eighth);
    let columns = 0;
    for (let x = 0; x < width; x++)
      for (let y = 0; y < eighth; y++) {
        const at = 4 * (y * width + x);
        // The liquid's colour is greener than red and opaque where the line runs; rules and names are grey.
        if (data[at + 3]! > 60 && data[at + 1]! - data[at]! > 30) {
          columns++;
          break;
        }
      }
    return columns;
  }, part === 'top');
}

const field = (page: Page) => page.getByLabel('Choose a trace');
const jets = join(repository, 'examples', 'trace-second-jet.csv');

it('stops in the middle of a long trace, and the page goes on with the same or another', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  const endless = await rawTrace('endless.raw', ENDLESS);
  const begun = async () => {
    await field(page).setInputFiles(endless);
    await page.getByRole('progressbar', { name: 'Reading endless.raw' }).waitFor();
    await page.waitForFunction(() => (document.querySelector('progress')?.value ?? 0) > 0);
  };
  await begun();
  await page.getByRole('button', { name: 'Stop' }).click();
  await page.getByText('Stopped. Nothing was kept.').waitFor();
  expect(await page.locator('progress').count()).toBe(0);

  // The same files once more; this time another trace takes their place while they are read.
  await begun();
  await field(page).setInputFiles(jets);
  await page.getByRole('heading', { name: 'trace-second-jet.csv' }).waitFor();
  expect(await page.locator('progress').count()).toBe(0);
  const span = page.locator('[data-span]');
  const whole = await span.textContent();
  await page.getByRole('button', { name: 'Zoom in' }).click();
  await expect.poll(() => span.textContent()).not.toBe(whole);
  expect(trouble).toEqual([]);
  await close();
});

it('shows single samples of a trace that it does not keep, out of the file', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  await field(page).setInputFiles(await rawTrace('long.raw', LONG));
  await page.getByRole('heading', { name: 'long.raw' }).waitFor({ timeout: 120_000 });
  const picture = page.locator('[data-samples-each]');
  await picture.waitFor();
  expect(Number(await picture.getAttribute('data-samples-each'))).toBeGreaterThan(1000);
  const canvas = picture.locator('canvas');
  await canvas.scrollIntoViewIfNeeded();
  const box = (await canvas.boundingBox())!;
  const frame = { left: 70, right: 14 };
  const columns = box.width - frame.left - frame.right;
  // Ctrl and the wheel zoom about the pointer, which stands on the comb.
  await page.mouse.move(box.x + frame.left + (columns * COMB_AT) / LONG, box.y + box.height / 2);
  const each = async () => Number(await picture.getAttribute('data-samples-each'));
  await page.keyboard.down('Control');
  for (let turns = 0; turns < 80 && (await each()) > 1; turns++) await page.mouse.wheel(0, -100);
  await page.keyboard.up('Control');
  await expect.poll(each).toBe(1);
  // Its samples come from the right place of the file: the line runs up and down between them, all across.
  expect(await inked(page, 'top')).toBeGreaterThan(COLUMNS_INKED * columns);
  expect(await inked(page, 'bottom')).toBeGreaterThan(COLUMNS_INKED * columns);
  expect(await page.getByText('not kept sample by sample').count()).toBe(0);
  expect(trouble).toEqual([]);
  await close();
});
