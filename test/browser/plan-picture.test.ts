/** The plan page's pictures and panels in a real browser: voltage on the curve, dragging, gradient, compare, calibration. */
import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { type BenchAndBrowser, startBenchAndBrowser, type WatchedPage } from './bench-page.ts';

let bench: BenchAndBrowser;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());
beforeEach(async () => {
  watched = await bench.open('/plan');
  page = watched.page;
  await fresh();
});
afterEach(async () => {
  const { trouble } = watched;
  await watched.close();
  expect(trouble).toEqual([]);
});

const fresh = () => page.locator('.numbers[data-stale="false"]').waitFor();
const big = async (key: string) =>
  (await page.locator(`.keys [data-number="${key}"] .big`).textContent())?.trim();
const tipWords = () => page.locator('svg[data-view="tip"]').innerHTML();
const volts = () => page.getByRole('slider', { name: 'Tip voltage of the picture' });

it('chooses the voltage on the apex curve: solved below the turn, composed and labelled above', async () => {
  expect(await tipWords()).toContain('composed, not solved');
  const before = Number(await volts().getAttribute('aria-valuenow'));
  await volts().focus();
  await page.keyboard.press('ArrowLeft');
  await expect.poll(async () => Number(await volts().getAttribute('aria-valuenow'))).toBe(before - 10);
  const curve = page.locator('svg[data-view="apex-curve"]');
  const box = (await curve.boundingBox())!;
  const grip = (await volts().boundingBox())!;
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.2 * box.width, box.y + box.height / 2, { steps: 8 });
  await page.mouse.up();
  await expect.poll(tipWords).toContain('meniscus solved');
  expect(await tipWords()).not.toContain('composed, not solved');
  expect(await volts().getAttribute('aria-valuetext')).toContain('below onset');
});

it('draws a dragged rim at once, and the onset follows', async () => {
  const onset = await big('onset_V');
  const rim = page.getByRole('slider', { name: 'Rim, drag' });
  const grip = (await rim.boundingBox())!;
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2 + 30, { steps: 6 });
  await page.mouse.up();
  // The view fits the rim: the value follows the pointer by the scale it was taken at, it does not run away.
  const dragged = Number(await page.getByLabel('Rim at the tip').inputValue());
  expect(dragged).toBeGreaterThan(24);
  expect(dragged).toBeLessThan(60);
  await fresh();
  await expect.poll(() => big('onset_V')).not.toBe(onset);
  const distance = page.getByRole('slider', { name: 'Tip, drag along the axis' });
  await distance.focus();
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => page.getByLabel('Distance').inputValue()).toBe('3.05');
});

it('offers grips of 44 px', async () => {
  for (const slider of await page.locator('svg [role="slider"]').all()) {
    const box = (await slider.boundingBox())!;
    expect(box.width).toBeGreaterThanOrEqual(43.5);
    expect(box.height).toBeGreaterThanOrEqual(43.5);
  }
});

it('shows chances that it exports', async () => {
  await page.getByRole('img', { name: /^Chances over the tip/ }).waitFor();
  const [csv] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Chances as CSV' }).click(),
  ]);
  const rows = (await readFile(await csv.path(), 'utf8')).trim().split('\n');
  expect(rows[0]).toBe('voltage_V,below_onset,pulsating,steady,tilted,several_jets,discharge');
  for (const row of rows.slice(1)) {
    const [, ...shares] = row.split(',').map(Number);
    expect(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 1)).toBeLessThan(1e-3);
  }
});

it('follows the gradient by a slider and exports chart, run and ramp', async () => {
  await page.getByRole('button', { name: 'Add a gradient' }).click();
  await page.locator('[data-gradient-stale="false"]').waitFor();
  await page.getByRole('img', { name: /^Supply window along the gradient/ }).waitFor();
  const slider = page.getByLabel(/^Organic at the tip/);
  await slider.fill('60');
  await page.getByText('lost in the liquid (middle values)').waitFor();
  const turn = await page.locator('svg[data-view="apex-curve"]').innerHTML();
  await page.getByRole('button', { name: 'back to the set-up' }).click();
  await expect.poll(() => page.locator('svg[data-view="apex-curve"]').innerHTML()).not.toBe(turn);
  const [ramp] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Ramp as CSV' }).click(),
  ]);
  expect(await readFile(await ramp.path(), 'utf8')).toMatch(/^time_min,/);
});

it('is calibrated by what was seen, before beside after, and keeps it with the plan', async () => {
  const before = await big('onset_V');
  await page.getByLabel('Voltage [V]').fill('1500');
  await page.getByLabel('Seen there').selectOption('onset here');
  await page.getByRole('button', { name: 'Add what was seen' }).click();
  await page.locator('[data-table="before-after"]').waitFor();
  await expect.poll(() => big('onset_V')).not.toBe(before);
  expect(await big('onset_V')).toMatch(/1.?[345]\d0/);
  await page.getByRole('button', { name: 'Keep this plan' }).click();
  await page.getByText(/Kept as plan-\d+/).waitFor();
  await page.getByLabel('Voltage [V]').fill('much');
  await page.getByRole('button', { name: 'Add what was seen' }).click();
  await page.getByText('invalid observations.0.tip_V').waitFor();
});

it('compares with a set-up put aside, in words', async () => {
  await page.getByRole('button', { name: 'Put this set-up aside' }).click();
  await page.getByText('No number differs by more than 1 %.').waitFor();
  await page.getByLabel('Flow rate').fill('900');
  await page.locator('[data-table="differences"]').waitFor();
  expect(await page.locator('[data-table="differences"]').textContent()).toMatch(
    /more, (within|beyond) the range/,
  );
  await page.getByRole('button', { name: 'End the comparison' }).click();
  expect(await page.locator('[data-table="differences"]').count()).toBe(0);
});

it('ends with how to start and how to park, each step with its caution', async () => {
  const steps = page.locator('.sequence > li');
  expect(await steps.count()).toBeGreaterThan(7);
  for (const step of await steps.all()) expect(await step.textContent()).toContain('Caution:');
});
