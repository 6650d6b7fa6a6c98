import { readFile, stat } from 'node:fs/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { RunReading } from '../../src/evidence/run-reading.ts';
import { readWalk } from '../../src/evidence/walk.ts';
import { stepsFrom } from '../../src/evidence/walk-steps.ts';
import { type BenchAndBrowser, realRun, startBenchAndBrowser } from './bench-page.ts';

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());

it('reads a real run: upload, verdict, zoom, exports', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page.getByLabel('Your name or initials').fill('A. N.');
  await page.getByLabel('Choose a run file').setInputFiles(realRun);
  await page.waitForURL(/\/read\/reading-\d+$/);
  // 736 MS1 scans: what the package mzdata itself reads from this file.
  await page.getByText('736 MS1 scans in mzXML').waitFor();
  expect(await page.locator('.verdict').textContent()).toMatch(/\w/);
  await page.getByRole('heading', { name: 'What this file cannot decide' }).waitFor();
  expect(await page.locator('canvas').count()).toBeGreaterThan(0);

  const shown = page.locator('[data-span]');
  const whole = await shown.textContent();
  await page.getByRole('button', { name: 'Zoom in' }).press('Enter');
  await expect.poll(() => shown.textContent()).not.toBe(whole);
  const near = await shown.textContent();
  await page.getByRole('button', { name: 'Later' }).click();
  await expect.poll(() => shown.textContent()).not.toBe(near);
  await page.getByRole('button', { name: 'Whole run' }).click();
  await expect.poll(() => shown.textContent()).toBe(whole);
  await page.locator('.u-over').first().scrollIntoViewIfNeeded();
  const plot = await page.locator('.u-over').first().boundingBox();
  if (!plot) throw new Error('missing plot');
  await page.mouse.move(plot.x + 200, plot.y + 50);
  await page.mouse.down();
  await page.mouse.move(plot.x + 400, plot.y + 60, { steps: 4 });
  await page.mouse.up();
  await expect.poll(() => shown.textContent()).not.toBe(whole);
  await page.getByLabel('Level drawn').selectOption('log');

  const saved = async (role: 'button' | 'link', name: string) => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole(role, { name }).click(),
    ]);
    return readFile(await download.path(), 'utf8');
  };
  expect(await saved('button', 'Trace as SVG')).toMatch(/^<svg[\s\S]*<\/svg>\n$/);
  expect(JSON.parse(await saved('button', 'Reading as JSON')).ms1_count).toBe(736);
  expect((await saved('link', 'Series as CSV')).split('\n').length).toBeGreaterThan(736);
  expect(trouble).toEqual([]);
  await close();
});

it('reads a voltage walk from typed steps, with the numbers of the command line, and says what is wrong in a table', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page.getByLabel('Choose a run file').setInputFiles(realRun);
  await page.waitForURL(/\/read\/reading-\d+$/);
  const id = page.url().split('/').at(-1);
  const { document } = await (await fetch(`${bench.address}/api/bench/${id}`)).json();
  const reading = document as RunReading;
  const { start_s, end_s } = reading.groups[reading.main_group]!;
  const at = (share: number) => ((start_s + share * (end_s - start_s)) / 60).toFixed(2);
  const table = `time_min,voltage_V\n${at(0.1)},1400\n${at(0.4)},1500\n${at(0.7)},1450\n`;
  await page.getByText('Was the voltage walked during this run?').click();
  await page.getByRole('textbox', { name: 'Steps' }).fill('minute,volts\n1,1400\n');
  await page.getByRole('button', { name: 'Read the walk' }).click();
  await page.getByText('expected columns time_min and voltage_V').waitFor();
  await page.getByRole('textbox', { name: 'Steps' }).fill(table);
  await page.getByRole('button', { name: 'Read the walk' }).click();
  const expected = readWalk(reading, stepsFrom(table, 'step table')).sweeps.flatMap((s) => s.sentences);
  expect(expected.length).toBeGreaterThan(2);
  for (const sentence of expected) await page.getByText(sentence, { exact: true }).waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Walk as SVG' }).click(),
  ]);
  expect(await readFile(await download.path(), 'utf8')).toMatch(/^<svg[\s\S]*<\/svg>/);
  expect(trouble).toEqual([]);
  await close();
});

it('cancels an upload and keeps nothing', async () => {
  const { page, trouble, close } = await bench.open('/read');
  const count = async () => (await (await fetch(`${bench.address}/api/bench`)).json()).items.length;
  const before = await count();
  // Slow the line so that there is something to cancel.
  const wire = await page.context().newCDPSession(page);
  await wire.send('Network.enable');
  await wire.send('Network.emulateNetworkConditions', {
    offline: false,
    latency: 20,
    downloadThroughput: -1,
    uploadThroughput: 300_000,
  });
  await page.getByLabel('Choose a run file').setInputFiles(realRun);
  await page.getByRole('progressbar').waitFor();
  const { size } = await stat(realRun);
  await page.getByText(`of ${(size / 1e6).toFixed(1)} MB`).waitFor();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await page.getByText('Cancelled. Nothing was kept.').waitFor();
  expect(await page.getByLabel('Choose a run file').isVisible()).toBe(true);
  await page.waitForTimeout(500);
  expect(await count()).toBe(before);
  expect(trouble).toEqual([]);
  await close();
});

it('tells a file that is no run in words', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page
    .getByLabel('Choose a run file')
    .setInputFiles({ name: 'letter.mzML', mimeType: 'text/plain', buffer: Buffer.from('hello') });
  await Promise.race([page.getByText('Not read:').waitFor(), page.locator('.verdict').waitFor()]);
  expect(trouble.filter((line) => !line.includes('status of 4'))).toEqual([]);
  await close();
});

it('shows the reading of an upload that the bench cannot keep, and lets its series be saved', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page.route('**/api/runs?*', (route) =>
    route.fulfill({ json: { not_kept: 'invalid bench store: the disk is full', reading: sprayReading() } }),
  );
  await page
    .getByLabel('Choose a run file')
    .setInputFiles({ name: 'run.mzML', mimeType: 'text/plain', buffer: Buffer.from('<mzML/>') });
  await page
    .getByRole('alert')
    .getByText('Read, but not kept: invalid bench store: the disk is full')
    .waitFor();
  await page.getByText('Keep this run: invented.').waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Series as CSV' }).click(),
  ]);
  expect((await readFile(await download.path(), 'utf8')).split('\r\n')).toHaveLength(602);
  expect(trouble).toEqual([]);
  await close();
});

it('shows the spray: grade and its meaning, factor with its band, causes, what was left out and not looked at', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page.route('**/api/bench/reading-99998', (route) =>
    route.fulfill({ json: { item: longItem, document: sprayReading(), related: [] } }),
  );
  await page.evaluate(() => history.pushState(null, '', '/read/reading-99998'));
  await page.getByText('Spray: steady.').waitFor();
  await page.getByText('What these words mean').click();
  await page.getByText('steady: nothing was found', { exact: true }).waitFor();
  const factor = page.getByRole('img', { name: /^Spray factor by background ions/ });
  expect(await factor.locator('path.d-liquid').count()).toBe(1);
  const drawn = await factor.locator('path.d-trace').getAttribute('d');
  await page.getByRole('button', { name: 'Zoom in' }).click();
  await expect.poll(() => factor.locator('path.d-trace').getAttribute('d')).not.toBe(drawn);
  for (const words of [
    'All ions changed together. Could be: a bubble at the tip; a loose junction.',
    '0.00 to 0.50 min: asked for.',
    'The peaks of few scans were read.',
    'The level is a rate.',
    'A sag of 10 s would have shown from 20 % on.',
  ])
    expect(await page.getByText(words).count()).toBe(1);
  await page.getByText('Background ions followed: 1').click();
  await page.getByText('m/z 445.120 (the mass of a cyclosiloxane)').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('draws 100 000 scans afresh at every zoom (its time: npm run bench -- redraw)', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page.route('**/api/bench/reading-99999', (route) =>
    route.fulfill({ json: { item: longItem, document: longReading(), related: [] } }),
  );
  await page.evaluate(() => history.pushState(null, '', '/read/reading-99999'));
  await page.getByText('100\u202f000 MS1 scans').waitFor();
  await page.evaluate(() => performance.clearMeasures());
  for (const name of [
    'Zoom in',
    'Zoom in',
    'Later',
    'Earlier',
    'Zoom out',
    'Zoom out',
    'Zoom in',
    'Whole run',
  ]) {
    await page.getByRole('button', { name }).click();
    await page.waitForTimeout(60);
  }
  // The canvas holds a line: a redraw that drew nothing would be quick as well.
  const inked = await page.evaluate(() => {
    const canvas = document.querySelector('canvas');
    const data = canvas?.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height).data ?? [];
    let count = 0;
    for (let i = 3; i < data.length; i += 4) if (data[i] !== 0) count++;
    return count;
  });
  expect(inked).toBeGreaterThan(10_000);
  const redraws = await page.evaluate(() => performance.getEntriesByName('trace redraw').length);
  expect(redraws).toBeGreaterThanOrEqual(8);
  expect(trouble).toEqual([]);
  await close();
});

const longItem = {
  id: 'reading-99999',
  kind: 'reading',
  title: 'invented',
  when: '2031-02-03T04:05:06.000Z',
  who: '',
  version: '0',
  invented: true,
};

/** Ten minutes, a scan a second, one dropout that all ions share. */
function sprayReading(): RunReading {
  const base = longReading();
  const time_s = Array.from({ length: 600 }, (_, i) => i);
  const factor = time_s.map((t) => (t >= 300 && t < 310 ? 0.2 : 1));
  const none = time_s.map(() => null);
  const group = base.groups[0]!;
  return {
    ...base,
    ms1_count: 600,
    groups: [
      {
        ...group,
        ms1_count: 600,
        end_s: 599,
        interval_s: 1,
        series: { time_s, level: factor.map((f) => 1e7 * f), injection_ms: none },
        spray: {
          from: 'background ions',
          factor,
          error: time_s.map(() => 0.03),
          gain: none,
          gain_error: none,
          matched: time_s.map(() => 80),
          gain_sd: 0.04,
          gain_error_median: 0.02,
          matched_median: 80,
          halves_correlation: 0.9,
          common: 'common',
          background: [{ mz: 445.12, presence: 1, share: 0.02, scatter: 0.06, known: 'a cyclosiloxane' }],
          periods: [],
          sentences: [],
        },
        rate: {
          slope: -1,
          slope_error: 0.02,
          says: 'a rate',
          fill_scatter: 0.02,
          level_scatter: 0.3,
          scatter_short_over_long: null,
          sentences: ['The level is a rate.'],
        },
        limits: {
          sag_10s: 0.2,
          sag_60s: 0.1,
          dropout_one_scan: 0.4,
          ripple: null,
          sentence: 'A sag of 10 s would have shown from 20 % on.',
        },
      },
    ],
    events: [
      {
        kind: 'dropout',
        group: 0,
        start_s: 300,
        end_s: 310,
        depth: 0.8,
        confidence: 0.9,
        confidence_basis: 'ten scans',
        causes: ['a bubble at the tip', 'a loose junction'],
        common: true,
        sentence: 'At 5:00 min the level drops out for 10 s.',
      },
    ],
    masked: [{ start_s: 0, end_s: 30, reason: 'asked for' }],
    stability: { grade: 'steady', definition: 'steady: nothing was found', sentence: 'Steady: invented.' },
    peaks_read: true,
    lacks: ['The peaks of few scans were read.'],
  };
}

function longReading(): RunReading {
  const count = 100_000;
  const time_s = Array.from({ length: count }, (_, i) => i * 0.1);
  const level = time_s.map((t, i) => 1e6 * (1.5 + Math.sin(t / 300)) + 1e5 * Math.sin(i * 12.9898));
  return {
    format: 'mzML',
    ms1_count: count,
    invented: true,
    main_group: 0,
    groups: [
      {
        label: 'positive',
        polarity: 'positive',
        ms1_count: count,
        start_s: 0,
        end_s: (count - 1) * 0.1,
        interval_s: 0.1,
        level_from: 'stated',
        summed_over_stated: null,
        scatter: 0.05,
        scan_scatter: 0.05,
        injection_time: null,
        series: { time_s, level, injection_ms: time_s.map(() => null) },
        rate: null,
        spray: null,
        limits: null,
      },
    ],
    events: [],
    trustworthy: [{ start_s: 0, end_s: 9999 }],
    trustworthy_share: 1,
    verdict: { grade: 'keep', sentence: 'Keep this run: invented.', reasons: [] },
    masked: [],
    stability: { grade: 'steady', definition: 'invented', sentence: 'Steady: invented.' },
    peaks_read: false,
    lacks: [],
    undecided: [],
    warnings: [],
  };
}
