import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { nextMove, type SettleSession } from '../../src/core/settling/index.ts';
import { type BenchAndBrowser, realRun, startBenchAndBrowser } from './bench-page.ts';

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());

const open = async (id: string) =>
  (await (await fetch(`${bench.address}/api/settlings/${id}`)).json()) as { session: SettleSession };

it('settles: frame, readings, a yes before a raise, and nothing is lost on a reload', async () => {
  const { page, trouble, close } = await bench.open('/settle');
  await page.getByLabel('Name of the session').fill('Tip 7, invented');
  await page.getByLabel('Sideways, x', { exact: true }).uncheck();
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(/\/settle\/settle-\d+$/);
  const id = page.url().split('/').at(-1)!;
  let raises = 0;
  for (let k = 0; k < 4; k++) {
    const { session } = await open(id);
    const advice = nextMove(session);
    await page.getByRole('heading', { name: advice.sentence }).waitFor();
    const add = page.getByRole('button', { name: /Add the reading|First say yes/ });
    if (advice.asks_for_yes) {
      raises++;
      expect(await add.isDisabled()).toBe(true);
      await page.getByRole('checkbox', { name: advice.question! }).check();
    }
    const { voltage_V: volts, distance_mm: distance } = advice.to;
    const level = 1e6 * Math.exp(-(((volts - 1650) / 250) ** 2) - (distance - 2.6) ** 2);
    await page.getByLabel('Level read there').fill(String(Math.round(level)));
    await page.getByLabel('Scatter [%]').fill('6');
    if (volts < 1350) await page.getByRole('button', { name: 'dripping' }).click();
    await add.click();
    await page.getByRole('heading', { name: `Readings: ${k + 1}` }).waitFor();
  }
  expect(raises).toBeGreaterThan(0);
  await page.reload();
  await page.getByRole('heading', { name: 'Readings: 4' }).waitFor();
  const { session } = await open(id);
  expect(session.readings).toHaveLength(4);
  expect(session.readings.every((reading) => reading.at.voltage_V <= session.supply_limit_V)).toBe(true);

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Readings as CSV' }).click(),
  ]);
  expect((await readFile(await download.path(), 'utf8')).trim().split('\r\n')).toHaveLength(5);
  const over = await (await fetch(`${bench.address}/api/settlings/${id}/hand-over.html`)).text();
  expect(over).toMatch(/Working point/);
  expect(over).not.toMatch(/https?:/);
  await page.goto(`${bench.address}/settle`);
  await page.getByRole('link', { name: /4 readings Tip 7, invented/ }).waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('takes level and scatter from a run, of one ion too, and from a trace; a wrong ion in words', async () => {
  const { page, trouble, close } = await bench.open('/settle');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(/\/settle\/settle-\d+$/);
  const part = page.locator('details').filter({ hasText: 'Take it from a run or a current trace' });
  await part.locator('summary').click();
  const level = page.getByLabel('Level read there');
  await part.locator('input[type=file]').setInputFiles(realRun);
  await part.getByText(/Look at it, then add it/).waitFor();
  const whole = Number(await level.inputValue());
  expect(whole).toBeGreaterThan(0);
  expect(await page.getByLabel('Scatter [%]').inputValue()).toMatch(/^\d/);
  await part.getByLabel(/One ion/).fill('500±10000ppm');
  await part.locator('input[type=file]').setInputFiles(realRun);
  await part.getByText(/The ion stands in \d+ of \d+ MS1 scans/).waitFor();
  expect(Number(await level.inputValue())).toBeLessThan(whole);
  await part
    .locator('input[type=file]')
    .setInputFiles(join(import.meta.dirname, '..', '..', 'examples', 'trace-second-jet.csv'));
  await part.getByText(/trace-second-jet\.csv: level/).waitFor();
  expect(Number(await level.inputValue())).toBeLessThan(1000);
  await part.getByLabel(/One ion/).fill('many');
  await part.locator('input[type=file]').setInputFiles(realRun);
  await part.getByText('invalid ion: many; expected an m/z with its tolerance').waitFor();
  expect(trouble.filter((line) => !line.includes('400'))).toEqual([]);
  await close();
});

it('refuses a frame that contradicts itself, and a reading that is none, in words', async () => {
  const { page, trouble, close } = await bench.open('/settle');
  await page.getByLabel('Voltage, to').fill('800');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.getByText(/axes\.voltage_V\.high/).waitFor();
  await page.getByLabel('Voltage, to').fill('2400');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(/\/settle\/settle-\d+$/);
  await page.getByRole('region', { name: 'Next step' }).waitFor();
  const yes = page.locator('.yes input');
  if ((await yes.count()) > 0) await yes.check();
  await page.getByRole('button', { name: 'Add the reading' }).click();
  await page.getByText('invalid level: empty; expected a number').waitFor();
  // The refused frame is a 4xx, which the browser lists.
  expect(trouble.filter((line) => !/400/.test(line))).toEqual([]);
  await close();
});
