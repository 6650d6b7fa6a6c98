import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { expectAccessible } from './accessible.ts';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';
import { madeNight } from './made-night.ts';

let bench: BenchAndBrowser;
let night: ReturnType<typeof madeNight>;
/** A reading of the night whose run has planted faults. */
let reading = '';
beforeAll(async () => {
  bench = await startBenchAndBrowser();
  night = madeNight(6);
  await bench.readQueue(night.folder, 'tip 7');
  const { report } = await (await fetch(`${bench.address}/api/queues/tip%207`)).json();
  reading = report.files.find(({ name }: { name: string }) => name === 'run_3.mzML').reading_id;
});
afterAll(async () => {
  night?.remove();
  await bench?.close();
});

/** Shares shown are rounded to whole percents. */
const ROUNDED = 4;
const pressed = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first().click();

it('leads from a reading to its causes, each observation with where it comes from', async () => {
  const { page, trouble, close } = await bench.open(`/read/${reading}`);
  await page.getByRole('link', { name: 'Explain this run' }).click();
  await page.waitForURL(new RegExp(`/explain\\?reading=${reading}$`));
  await page.getByRole('heading', { name: 'Causes, most likely first' }).waitFor();
  await page.getByText('INVENTED DATA').waitFor();
  expect(await page.locator('.verdict').textContent()).toMatch(/Cannot be decided from this|Most likely/);
  await page.getByText(/run_3\.mzML: dropout at/).waitFor();
  await page.getByText('fewer than 3 earlier runs').waitFor();
  await page.getByText('something not in the catalogue', { exact: true }).waitFor();
  await page.getByText('two faults at once', { exact: true }).waitFor();
  const shown = await page.locator('.cause .number').allTextContents();
  expect(shown.length).toBe(9);
  const sum = shown.reduce(
    (total, text) => total + (text.startsWith('under') ? 0.5 : Number.parseInt(text, 10)),
    0,
  );
  expect(Math.abs(sum - 100)).toBeLessThanOrEqual(ROUNDED);
  expect(await page.getByText('are inferences here, not observations').count()).toBe(1);
  expect(trouble).toEqual([]);
  await close();
});

it('answers by buttons, keeps the answers in the address, and takes them back', async () => {
  const { page, trouble, close } = await bench.open('/explain');
  await page.getByText('Nothing was observed:').waitFor();
  const first = await page.locator('.question h2').textContent();
  await page.locator('.answers button').first().click();
  await page.waitForURL(/saw=/);
  await page.locator('.question h2').filter({ hasNotText: first! }).waitFor();
  await pressed(page, 'Cannot see');
  await page.waitForURL(/cannot=/);
  await page.getByRole('heading', { name: 'You cannot see' }).waitFor();
  await page.reload();
  await page.getByRole('heading', { name: 'You cannot see' }).waitFor();
  expect(await page.getByText('Your answer:').count()).toBe(1);
  await pressed(page, 'Take all answers back');
  await page.getByText('Nothing was observed:').waitFor();
  expect(new URL(page.url()).search).toBe('');
  expect(trouble).toEqual([]);
  await close();
});

it('decides from enough answers and shows the cure with its gate and the way to settling', async () => {
  const saw =
    'raise.better,current-form.pulses,meniscus.rounded,when.throughout,level.lower,background.together';
  const { page, trouble, close } = await bench.open(`/explain?saw=${saw}`);
  await page.getByText('Most likely: voltage too low').waitFor();
  await page.locator('.causes summary').first().click();
  await page.getByText('Hands clear of the source? Nobody near it?').first().waitFor();
  expect(await page.getByRole('link', { name: 'Start settling' }).first().getAttribute('href')).toMatch(
    /^\/settle\?cause=voltage-low&probability=0\.\d+$/,
  );
  expect(await page.getByText('are inferences here').count()).toBe(0);
  expect(trouble).toEqual([]);
  await close();
});

it('bears contradictory and nonsensical addresses', async () => {
  const { page, close } = await bench.open('/explain?saw=level.lower,level.none,,swap&cannot=level');
  await page.locator('.verdict').waitFor();
  await page.goto(`${bench.address}/explain?saw=smell.sweet`);
  await page.getByText('unknown question: smell').waitFor();
  await page.goto(`${bench.address}/explain?reading=reading-999`);
  await page.getByText('unknown bench item').waitFor();
  await close();
});

it('does the arithmetic of a period', async () => {
  const { page, trouble, close } = await bench.open('/explain');
  await page.getByLabel('Period, s').fill('13');
  await page.getByLabel('Flow, nL/min').fill('300');
  await page.getByText('Every 13 s the pump delivers 65 nL.').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('guides one step at a time on a phone: the safe state before each touch, two failures stop, the log is kept', async () => {
  const saw = 'tissue.spot,pressure.usual,holder.wet,level.lower';
  const { page, trouble, close } = await bench.open(`/explain/guide?reading=${reading}&saw=${saw}`, {
    width: 390,
    height: 844,
  });
  await page.getByText('Stop rule.').waitFor();
  await pressed(page, 'Begin');
  await pressed(page, 'Try its cure');
  const gate = ['High voltage off.', 'Read back 0 V.', 'Wait for the supply to bleed down.'];
  for (const line of gate) {
    await page.getByRole('heading', { name: line }).waitFor();
    expect(await page.getByRole('button', { name: 'Done, it helped' }).count()).toBe(0);
    await pressed(page, 'Done');
  }
  await page.getByRole('heading', { name: /^Ground the contact/ }).waitFor();
  await pressed(page, 'Done');
  while ((await page.getByRole('button', { name: 'Done, no help' }).count()) === 0)
    await pressed(page, 'Done');
  await pressed(page, 'Done, no help');
  for (let k = 0; k < 8 && (await page.getByRole('button', { name: 'Done, no help' }).count()) === 0; k++)
    await pressed(page, 'Done');
  await pressed(page, 'Done, no help');
  await page.getByRole('heading', { name: 'Two attempts without help: stop here' }).waitFor();
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  await page
    .getByText(/^\d\d:\d\d High voltage off\.$/)
    .first()
    .waitFor();

  // A crash loses nothing: the log and the answers are there again.
  await page.reload();
  await page
    .getByText(/No help\.$/)
    .first()
    .waitFor();

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Guide and log as HTML' }).click(),
  ]);
  const html = await readFile(await download.path(), 'utf8');
  expect(html).toContain('Stop rule.');
  expect(html).toContain('What was done');
  expect(html).not.toMatch(/https?:|\bsrc=|\bhref=|url\(|@import|<script/i);

  await pressed(page, `Keep with ${reading}`);
  await page.getByText(`Kept with ${reading}.`).waitFor();
  const { related } = await (await fetch(`${bench.address}/api/bench/${reading}`)).json();
  expect(related.map(({ title }: { title: string }) => title).join(' ')).toContain('High voltage off.');
  expect(trouble).toEqual([]);
  await close();
});

it('stops at any step', async () => {
  const { page, trouble, close } = await bench.open('/explain/guide', { width: 390, height: 844 });
  await pressed(page, 'Begin');
  await pressed(page, 'Stop now');
  await page.getByText('High voltage off. Hands away. Call a trained person.').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it.each(['light', 'dark'] as const)('can be read by everybody, %s', async (scheme) => {
  for (const path of [`/explain?reading=${reading}&saw=pressure.usual`, '/explain/guide?saw=level.lower']) {
    const { page, close } = await bench.open(path, { scheme, width: 390, height: 844 });
    await page.locator('.answers button').first().waitFor();
    await expectAccessible(page, 390, 'main button:visible, main select:visible, main summary:visible');
    await close();
  }
});
