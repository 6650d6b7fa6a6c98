/** Rehearse in a real browser: the open bench answers the hand, the blind one hides and then shows, the drawings keep up. */
import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { createBench, truthDocument } from '../../src/rehearsal/index.ts';
import { expectAccessible } from './accessible.ts';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';

const SEED = 7;

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());

const ready = (page: Page) => page.locator('.rehearse[data-ready="true"]').waitFor({ timeout: 60_000 });
const regime = (page: Page, name: RegExp) =>
  page.waitForFunction(
    (pattern) =>
      new RegExp(pattern).test(document.querySelector<HTMLElement>('.rehearse')?.dataset.regime ?? ''),
    name.source,
    { timeout: 60_000 },
  );

it('opens with all seen, and goes from drops to a jet to several as the voltage is raised', async () => {
  const truth = truthDocument(createBench({ seed: SEED }));
  const { page, trouble, close } = await bench.open(`/rehearse?seed=${SEED}&meter=usual`);
  await ready(page);
  await page.getByText('Nothing here touches a real supply:').waitFor();
  await regime(page, /dripping/);
  const voltage = page.getByRole('slider', { name: /^Voltage/ });
  await voltage.fill(String(Math.round(truth.best_V / 10) * 10 + 60));
  await regime(page, /cone-jet/);
  await page.getByText('A steady cone-jet.').waitFor();
  await voltage.fill(String(Math.round((truth.several_jets_from_V * 1.12) / 10) * 10));
  await regime(page, /several jets/);
  expect(trouble).toEqual([]);
  await close();
});

it('is turned by steps and keys, and switched off', async () => {
  const { page, trouble, close } = await bench.open(`/rehearse?seed=${SEED}&meter=resistor`);
  await ready(page);
  const voltage = page.getByRole('slider', { name: /^Voltage/ });
  await page.getByRole('button', { name: /^Voltage up/ }).click();
  expect(await voltage.inputValue()).toBe('610');
  await voltage.focus();
  await page.keyboard.press('PageUp');
  expect(await voltage.inputValue()).toBe('660');
  await page.keyboard.press('ArrowLeft');
  expect(await voltage.inputValue()).toBe('650');
  expect(await voltage.getAttribute('aria-valuetext')).toContain('650');
  // A distance that was not solved yet stops the bench for a moment only.
  await page.getByRole('button', { name: /^Distance up/ }).click();
  const benchTime = () => page.locator('.rehearse').getAttribute('data-bench-s').then(Number);
  const then = await benchTime();
  await page.waitForFunction(
    (from) => Number(document.querySelector<HTMLElement>('.rehearse')?.dataset.benchS) > from + 2,
    then,
  );
  expect(await benchTime()).toBeGreaterThan(then + 2);
  await page.getByRole('button', { name: 'Switch the high voltage off' }).click();
  await page.getByText('No voltage at the tip').waitFor();
  await page.getByRole('button', { name: 'Readings as CSV' }).waitFor();
  await page.getByRole('button', { name: 'Hold everything' }).click();
  await page.getByRole('button', { name: 'Go on' }).waitFor();
  for (const [name, start] of [
    ['Picture and traces as SVG', '<svg'],
    ['Current as CSV', '# invented data'],
    ['Readings as CSV', '# invented data'],
  ] as const) {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name }).click(),
    ]);
    const text = await readFile(await download.path(), 'utf8');
    expect(text.startsWith(start)).toBe(true);
    expect(text.toLowerCase()).toContain('invented');
  }
  expect(trouble).toEqual([]);
  await close();
});

it('hides the meniscus when blind, counts readings, then shows the truth', async () => {
  const { page, trouble, close } = await bench.open(`/rehearse?seed=${SEED}&how=blind&meter=usual`);
  await ready(page);
  expect(await page.getByRole('img', { name: 'The tip; its meniscus is hidden' }).count()).toBe(1);
  expect(await page.getByText(/Below the onset|True rate/).count()).toBe(0);
  expect(await page.locator('.rehearse').getAttribute('data-regime')).toBeNull();
  const show = page.getByRole('button', { name: 'Show the truth' });
  expect(await show.isDisabled()).toBe(true);
  await page.getByRole('slider', { name: /^Voltage/ }).fill('1200');
  await page.getByRole('heading', { name: /One reading|\d readings/ }).waitFor();
  await page.getByLabel('What is wrong with this emitter?').selectOption('do not know');
  await show.click();
  const hidden = createBench({ seed: SEED, fault: 'maybe' }).truth.fault;
  const verdict = page.locator('.verdict');
  await verdict.waitFor();
  expect(await verdict.textContent()).toBe(
    `You left it open. It was: ${hidden ? hidden.name : 'nothing: it is sound'}.`,
  );
  await page.getByText(/You took \d+ readings? in .* At your point, when you said it: /).waitFor();
  expect(await page.getByRole('img', { name: 'The tip with its meniscus, to scale' }).count()).toBe(1);
  expect(trouble).toEqual([]);
  await close();
});

it('lets a blind round be played by keys alone, and sums up from the second on', async () => {
  const sound = [...Array(200).keys()].find(
    (seed) => createBench({ seed, fault: 'maybe' }).truth.fault === undefined,
  )!;
  const { page, trouble, close } = await bench.open(`/rehearse?seed=${sound}&how=blind&meter=resistor`);
  await ready(page);
  const focused = () =>
    page.evaluate(() => {
      const at = document.activeElement as HTMLElement | null;
      const labels = at instanceof HTMLInputElement || at instanceof HTMLSelectElement ? at.labels : null;
      return `${at?.getAttribute('aria-label') ?? ''} ${labels?.[0]?.textContent ?? ''} ${at?.textContent ?? ''}`;
    });
  const tabTo = async (name: RegExp) => {
    for (let k = 0; k < 60; k++) {
      if (name.test(await focused())) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`no focus on ${name}; it stands on ${await focused()}`);
  };
  for (const round of [1, 2]) {
    await tabTo(/^ Voltage /);
    for (let k = 0; k < 9; k++) await page.keyboard.press('PageUp');
    await page.getByRole('heading', { name: /One reading|\d readings/ }).waitFor();
    await tabTo(/What is wrong with this emitter/);
    await page.keyboard.press('n');
    await tabTo(/Show the truth/);
    await page.keyboard.press('Enter');
    await page.locator('.verdict').waitFor();
    if (round === 2) break;
    expect(await page.locator('.verdict').textContent()).toBe('You said: nothing: it is sound. Right.');
    await page.getByRole('columnheader', { name: 'Best at your flow' }).waitFor();
    expect(await page.getByText('rounds in this visit').count()).toBe(0);
    await page.locator('h1').focus();
    await tabTo(/Another hidden emitter/);
    await page.keyboard.press('Enter');
    await page.getByText(`number ${sound + 1}.`).waitFor();
    await ready(page);
  }
  await page.getByText(/^2 rounds in this visit/).waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('draws as often as the screen asks, at a million samples a second', async () => {
  const { page, trouble, close } = await bench.open(`/rehearse?seed=${SEED}&meter=wide`);
  await ready(page);
  await page.getByRole('slider', { name: /^Voltage/ }).fill('1160');
  const count = () =>
    page.evaluate(() => Number(document.querySelector<HTMLElement>('canvas')?.dataset.drawings ?? 0));
  const before = await count();
  await page.waitForFunction(
    (from) => Number(document.querySelector('canvas')?.dataset.drawings) > from + 60,
    before,
  );
  expect(await count()).toBeGreaterThan(before + 60);
  expect(trouble).toEqual([]);
  await close();
});

for (const scheme of ['light', 'dark'] as const)
  for (const width of [1440, 390])
    it(`axe finds nothing, nothing scrolls sideways and targets fit: ${scheme}, ${width} wide`, async () => {
      const { page, trouble, close } = await bench.open(`/rehearse?seed=${SEED}&meter=resistor`, {
        scheme,
        width,
      });
      await ready(page);
      await page.getByRole('heading', { name: 'One reading' }).waitFor();
      await expectAccessible(page, width, 'main button:visible, main input:visible, main select:visible');
      await page.getByLabel('How').selectOption('blind');
      await page.getByLabel('What is wrong with this emitter?').selectOption('do not know');
      await page.getByRole('button', { name: 'Show the truth' }).click();
      await page.getByRole('heading', { name: 'The truth' }).waitFor();
      await expectAccessible(page, width, 'main button:visible, main input:visible, main select:visible');
      expect(trouble).toEqual([]);
      await close();
    });
