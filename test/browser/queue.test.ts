import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';
import { madeNight } from './made-night.ts';

let bench: BenchAndBrowser;
let night: ReturnType<typeof madeNight>;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
  night = madeNight(14);
});
afterAll(async () => {
  night?.remove();
  await bench?.close();
});

it('tells how to read a queue while there is none', async () => {
  const { page, trouble, close } = await bench.open('/queue');
  await page.getByText('steadycone read FOLDER --queue').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('shows a queue: sentences, nights, warning, every file, and the way to each reading', async () => {
  await bench.readQueue(night.folder, 'tip 7');
  const { page, trouble, close } = await bench.open('/queue');
  await page.getByRole('link', { name: /tip 7/ }).click();
  await page.waitForURL(/\/queue\?of=tip\+7$/);
  const { report } = await (await fetch(`${bench.address}/api/queues/tip%207`)).json();
  await page.locator('.verdict').waitFor();
  expect(await page.locator('.verdict').textContent()).toBe(report.sentences[0]);
  for (const sentence of report.sentences.slice(1))
    expect(await page.getByText(sentence).count()).toBeGreaterThan(0);
  expect(report.first_bad).not.toBeNull();
  expect(await page.getByRole('heading', { name: /^Night of / }).count()).toBeGreaterThan(0);
  const bars = await page.locator('.queue-picture').first().locator('rect.d-ink').count();
  expect(bars).toBe(14);
  expect(await page.getByRole('img', { name: /^Early warning by scatter/ }).count()).toBe(1);
  expect(await page.locator('.queue-files > li').count()).toBe(15);
  expect(await page.locator('.queue-files > li').last().textContent()).toContain(
    'letter.mzMLnot read: invalid run file',
  );
  // The planted faults of one run stand at times of their own.
  const events = page.getByRole('region', { name: 'Events by run time' });
  expect(
    await events.getByRole('img', { name: /^Run time of events over the files: 0 come back/ }).count(),
  ).toBe(1);
  await events.getByText(/^Events at times of their own: \d+$/).click();
  expect(await events.getByRole('listitem').count()).toBe(report.recurring.own.length);
  expect(await events.getByRole('link', { name: 'run_3.mzML' }).count()).toBeGreaterThan(0);

  for (const [name, start] of [
    ['Files as CSV', 'file,sha256'],
    ['Pictures as SVG', '<svg'],
    ['Report as HTML', '<!doctype html>'],
    ['Metrics as mzQC', '{'],
  ] as const) {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name }).click(),
    ]);
    expect((await readFile(await download.path(), 'utf8')).startsWith(start)).toBe(true);
  }
  await page.locator('.queue-files').getByRole('link', { name: 'run_3.mzML', exact: true }).click();
  await page.waitForURL(/\/read\/reading-\d+$/);
  await page.locator('.verdict').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('shows the alert of a watched queue', async () => {
  const { page, trouble, close } = await bench.open('/queue');
  await page.route('**/api/queues/tip%207', async (route) => {
    const json = await (await route.fetch()).json();
    json.alert = {
      raised_at: '2031-02-03T23:00:00.000Z',
      sentence: 'Early warning at run_9.mzML: invented.',
    };
    await route.fulfill({ json });
  });
  await page.goto(`${bench.address}/queue?of=tip+7`);
  await page.getByRole('alert').getByText('Early warning at run_9.mzML: invented.').waitFor();
  // The made night warns as well, so that the alert is no longer said to be outdated.
  expect(await page.getByText('they no longer give this warning').count()).toBe(0);
  await page.unroute('**/api/queues/tip%207');
  await page.route('**/api/queues/tip%207', async (route) => {
    const json = await (await route.fetch()).json();
    json.alert = { raised_at: '2031-02-03T23:00:00.000Z', sentence: 'Early warning: invented.' };
    json.report.warning.alarm = null;
    await route.fulfill({ json });
  });
  await page.reload();
  await page.getByRole('alert').getByText('they no longer give this warning').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('tells a queue that is not there', async () => {
  const { page, close } = await bench.open('/queue?of=nobody');
  await page.getByText('unknown queue: "nobody"').waitFor();
  await close();
});

it('opens a queue whose label an address must escape', async () => {
  const label = 'tip 7/8 ä% ?#';
  await bench.readQueue(night.folder, label);
  const { page, trouble, close } = await bench.open('/queue');
  await page.getByRole('link', { name: label }).click();
  await page.getByRole('heading', { name: `Queue ${label}` }).waitFor();
  await page.locator('.queue-picture').first().waitFor();
  await page.reload();
  await page.getByRole('heading', { name: `Queue ${label}` }).waitFor();
  await page.locator('.queue-picture').first().waitFor();
  await page.getByLabel('The other queue').selectOption('tip 7');
  // The same runs: no difference.
  await page.getByText(/^share of usable minutes: .* p 1\.000: no difference shown\.$/).waitFor();
  expect(trouble).toEqual([]);
  await close();
});
