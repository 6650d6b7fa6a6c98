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

/** Waits until the numbers belong to the form. */
const fresh = () => page.locator('.numbers[data-stale="false"]').waitFor();
const big = async (key: string) =>
  (await page.locator(`.keys [data-number="${key}"] .big`).textContent())?.trim();

it('plans the invented example, and anew when a value changes', async () => {
  await page.getByText('an invented example: put your own values in').waitFor();
  const before = { onset: await big('onset_V'), current: await big('current_nA') };
  expect(before.onset).toMatch(/\d.*V$/);
  await page.getByLabel('Flow rate').fill('900');
  await expect.poll(() => big('current_nA')).not.toBe(before.current);
  await fresh();
  expect(await big('onset_V')).toBe(before.onset);
  await page.getByLabel('Rim at the tip').fill('12');
  await expect.poll(() => big('onset_V')).not.toBe(before.onset);
});

it('draws both views to scale with a scale bar', async () => {
  const gap = page.locator('svg[data-view="gap"]');
  const perMm = Number(await gap.getAttribute('data-px-per-mm'));
  const bar = await gap.locator('[data-scale-bar] rect').getAttribute('width');
  const said = (await gap.locator('[data-scale-bar]').getAttribute('data-scale-bar')) ?? '';
  expect(Number(bar)).toBeCloseTo(Number.parseFloat(said) * perMm, 6);
  const tip = page.locator('svg[data-view="tip"]');
  const perUm = Number(await tip.getAttribute('data-px-per-um'));
  const tipBar = await tip.locator('[data-scale-bar] rect').getAttribute('width');
  const tipSaid = (await tip.locator('[data-scale-bar]').getAttribute('data-scale-bar')) ?? '';
  expect(Number(tipBar)).toBeCloseTo(Number.parseFloat(tipSaid) * perUm, 6);
  expect(await tip.innerHTML()).toContain('composed, not solved');
});

it('says faults beside the fields and keeps the last numbers, marked', async () => {
  const before = await big('onset_V');
  await page.getByLabel('Bore at the tip').fill('abc');
  await page.getByText('invalid: "abc"').first().waitFor();
  const field = page.getByLabel('Bore at the tip');
  expect(await field.getAttribute('aria-invalid')).toBe('true');
  await page.getByText('belong to the last set-up without faults').waitFor();
  expect(await big('onset_V')).toBe(before);
  expect(await page.getByRole('button', { name: 'Keep this plan' }).isDisabled()).toBe(true);
  // Two faults at once are both named; the list leads to the field by keyboard.
  await page.getByLabel('Distance').fill('900');
  await page.getByText('2 values need another look').waitFor();
  await field.fill('10');
  await page.getByLabel('Distance').fill('3');
  await fresh();
});

it('says that the liquid bulges out where no meniscus bears the gas pressure, and advises nothing', async () => {
  await page.getByLabel('Fed by').selectOption('static');
  await page.getByLabel('Back pressure').fill('500');
  await page.getByText('The liquid bulges out and drips without field').first().waitFor();
  await fresh();
  expect(await big('advised_supply_V')).toBe('none advised');
  expect(await page.locator('figure[data-truth="no equilibrium"]').count()).toBe(1);
  const shown = (await page.locator('main').textContent()) ?? '';
  expect(shown).toContain('no equilibrium exists');
  expect(shown).not.toContain('solver failed');
  expect(shown).not.toContain('the solver failed');
});

it('carries the set-up in the address', async () => {
  await page.getByLabel('Flow rate').fill('450');
  await page.getByLabel('Additive').selectOption('ammonium acetate');
  await page.getByRole('button', { name: 'Add a gradient' }).click();
  await fresh();
  await page.waitForURL(/s=/);
  await page.waitForTimeout(400);
  const current = await big('current_nA');
  const address = page.url();
  const other = await bench.open(address.replace(bench.address, ''));
  await other.page.locator('.numbers[data-stale="false"]').waitFor();
  expect(await other.page.getByLabel('Flow rate').inputValue()).toBe('450');
  expect(await other.page.getByLabel('Additive').inputValue()).toBe('ammonium acetate');
  expect(await other.page.locator('.keys [data-number="current_nA"] .big').textContent()).toBe(current);
  // The gradient follows after the window.
  await other.page.getByRole('heading', { name: 'Along the gradient' }).waitFor();
  expect(other.trouble).toEqual([]);
  await other.close();
});

it('keeps the plan on the bench', async () => {
  await page.getByLabel('Your name or initials').fill('N. N.');
  await page.getByRole('button', { name: 'Keep this plan' }).click();
  await page.getByText(/Kept as plan-\d+/).waitFor();
  await page.getByRole('link', { name: /^plan-\d+$/ }).click();
  await page.getByRole('heading', { level: 2, name: 'The document' }).waitFor();
  await page.getByText('by N. N.').waitFor();
  await page.getByRole('link', { name: 'Open in Plan' }).click();
  await fresh();
  expect(await page.getByLabel('Rim at the tip').inputValue()).toBe('24');
});

it('exports picture, numbers and set-up', async () => {
  const saved = async (name: string) => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name }).click(),
    ]);
    return readFile(await download.path(), 'utf8');
  };
  const picture = await saved('Picture as SVG');
  expect(picture).toMatch(/^<svg xmlns/);
  expect(picture).toContain('composed, not solved');
  expect(picture).not.toContain('var(');
  const csv = await saved('Numbers as CSV');
  expect(csv.split('\n')[0]).toBe('quantity,value,low,high,basis,valid,note,sources');
  expect(csv).toMatch(/\nonset_V,\d/);
  const setup = JSON.parse(await saved('Set-up as JSON'));
  expect(setup.feed.flow_nL_min).toBe(300);
});
