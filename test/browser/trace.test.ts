import { spawnSync } from 'node:child_process';
import { mkdtemp, readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { observationsFrom } from '../../src/contract/index.ts';
import { randomStream } from '../../src/core/random.ts';
import { faultyTraces, NO_CURRENT } from '../kit/faulty-traces.ts';
import { expectAccessible } from './accessible.ts';
import { type BenchAndBrowser, repository, startBenchAndBrowser } from './bench-page.ts';

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());

const walkFile = join(repository, 'examples', 'trace-walk.csv');
const setupFile = join(repository, 'examples', 'gradient-proteomics.yaml');
const program = join(repository, 'dist', 'cli', 'main.js');
const TARGETS = 'button:visible, input:visible, select:visible, textarea:visible, nav a, summary:visible';

async function choose(page: Page, name: string, text: string): Promise<void> {
  await page
    .getByLabel('Choose a trace')
    .setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
}

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

/** Up from 1300 to 1900 V and down again; the step at the top ends one way and begins the other. */
const STEPS_IN_WALK = 13;
const TOP_STEP_SHARED = 1;

/** The example of a walk, its current in one table and the voltage's steps in another, as two instruments write them. */
async function walkInTwoFiles(): Promise<{ current: string; steps: string }> {
  const rows = (await readFile(walkFile, 'utf8'))
    .split('\n')
    .filter((line) => /^\d/.test(line))
    .map((line) => line.split(','));
  const turns = rows.filter(([, , kV], k) => kV !== rows[k - 1]?.[2]);
  expect(turns).toHaveLength(STEPS_IN_WALK);
  return {
    current: ['# invented', 'time_s,current_nA', ...rows.map(([t, i]) => `${t},${i}`)].join('\n'),
    steps: ['time_s,voltage_V', ...turns.map(([t, , kV]) => `${t},${1000 * Number(kV)}`)].join('\n'),
  };
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

it('asks for what a table does not say beside its first rows, and reads it once it is told', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  const rows = Array.from(
    { length: 4000 },
    (_, k) => `${(k / 1000).toFixed(3)},${(50 + (k % 3)).toFixed(2)},1500`,
  );
  await choose(page, 'bare.csv', `time_s,current,supply\n${rows.join('\n')}`);
  const preview = page.getByRole('region', { name: 'Before it is read' });
  expect(await preview.getByRole('heading').textContent()).toBe('bare.csv: one thing to settle');
  expect(await preview.getByRole('columnheader').allTextContents()).toEqual([
    'time_stime, s',
    'currentasked below',
    'supplyasked below',
  ]);
  const read = preview.getByRole('button', { name: 'Read the trace' });
  expect(await read.isDisabled()).toBe(true);
  await preview.getByLabel('Unit of the current in "current"').selectOption('nA');
  await preview.getByText('nothing is open any more').waitFor();
  await preview.getByLabel('Unit of the voltage in "supply"').selectOption('V');
  await read.click();
  await page.getByText('4\u202f000 samples at').waitFor();
  await page.getByText('Voltage walk: where').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('asks how a line is to be read, then for the columns it then has', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  await choose(page, 'ways.txt', Array.from({ length: 900 }, (_, k) => `${k},${50 + (k % 5)}`).join('\n'));
  const preview = page.getByRole('region', { name: 'Before it is read' });
  await preview.getByLabel('How a line is to be read').selectOption('comma point');
  await preview.getByLabel('Column of the current').selectOption('2');
  await preview.getByLabel('Unit of the current in "column 2"').selectOption('nA');
  await preview.getByLabel('or samples per second').fill('100');
  await preview.getByRole('button', { name: 'Read the trace' }).click();
  await page.getByText('900 samples at 100').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('asks a WAV file for its scale and raw samples for the worth of a step', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  const levels = Int16Array.from({ length: 4000 }, (_, k) => 12_000 + (k % 7));
  const wave = Buffer.alloc(44 + levels.byteLength);
  wave.write('RIFF....WAVEfmt ', 'latin1');
  wave.writeUInt32LE(16, 16);
  wave.writeUInt16LE(1, 20);
  wave.writeUInt16LE(1, 22);
  wave.writeUInt32LE(8000, 24);
  wave.writeUInt16LE(2, 32);
  wave.writeUInt16LE(16, 34);
  wave.write('data', 36, 'latin1');
  wave.writeUInt32LE(levels.byteLength, 40);
  Buffer.from(levels.buffer).copy(wave, 44);
  await page
    .getByLabel('Choose a trace')
    .setInputFiles({ name: 'a.wav', mimeType: 'audio/wav', buffer: wave });
  const preview = page.getByRole('region', { name: 'Before it is read' });
  await preview.getByLabel('Current at full scale [nA]').fill('327.68');
  await preview.getByRole('button', { name: 'Read the trace' }).click();
  await page.getByRole('heading', { name: 'a.wav' }).waitFor();
  expect(await page.locator('.verdict').textContent()).toContain('mean 120 nA');

  const sidecar = { format: 'int16', rate_Hz: 8000, channels: [{ quantity: 'current', unit: 'nA' }] };
  await page.getByLabel('Choose a trace').setInputFiles([
    { name: 'b.bin', mimeType: 'application/octet-stream', buffer: Buffer.from(levels.buffer) },
    { name: 'b.bin.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(sidecar)) },
  ]);
  await preview.getByLabel(/What one stored step is worth \[nA\]/).fill('0.01');
  await preview.getByRole('button', { name: 'Read the trace' }).click();
  await page.getByRole('heading', { name: 'b.bin' }).waitFor();
  expect(await page.locator('.verdict').textContent()).toContain('mean 120 nA');
  expect(trouble).toEqual([]);
  await close();
});

it('says what is wrong with a recording, and takes nothing for a missing current', async () => {
  const { page, trouble, close } = await bench.open('/trace');
  const faulty = faultyTraces();
  expect(faulty.length).toBe(6);
  for (const { name, text, said } of faulty) {
    await choose(page, name, text);
    await page.getByRole('heading', { name }).waitFor();
    await page.getByText(said).first().waitFor();
  }
  await choose(page, 'no-current.csv', NO_CURRENT);
  const preview = page.getByRole('region', { name: 'Before it is read' });
  expect(await preview.getByLabel('Column of the current').inputValue()).toBe('');
  expect(trouble).toEqual([]);
  await close();
});

describe('walks', () => {
  it('reads the voltage walk, and hands what was seen to the plan, by link and by file', async () => {
    const { page, trouble, close } = await bench.open('/trace');
    await page.getByLabel('Choose a trace').setInputFiles([walkFile, setupFile]);
    await page.getByRole('heading', { name: 'trace-walk.csv' }).waitFor();
    await page.getByLabel('Voltage read at').selectOption('supply');
    await page.getByRole('button', { name: 'Read the voltage walk' }).click();
    const walk = page.locator('[data-walk="voltage"]');
    await walk.getByText('Going up: steady as far as seen from between 1500 and 1600 V').waitFor();
    await walk.getByText('Hysteresis: the steady window begins').waitFor();
    await walk.getByText(/^Onset: read between 1300 and 1400 V, planned/).waitFor();
    expect(await walk.getByRole('img', { name: 'Current at each step of the voltage' }).count()).toBe(1);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      walk.getByRole('button', { name: 'Observations as JSON' }).click(),
    ]);
    const saved = JSON.parse(await readFile(await download.path(), 'utf8'));
    // The command line writes the same rows for `plan --observe`.
    const rows = join(await mkdtemp(join(tmpdir(), 'steadycone-walk-')), 'rows.yaml');
    const ran = spawnSync(
      process.execPath,
      [program, 'trace', walkFile, '--walk', 'channel', '--voltage-at', 'supply', '--observe-out', rows],
      { encoding: 'utf8' },
    );
    expect(ran.status).toBe(0);
    expect(parse(await readFile(rows, 'utf8'))).toEqual(saved);
    expect(observationsFrom(saved).length).toBeGreaterThan(5);

    await walk.getByRole('link', { name: 'Use in the plan' }).click();
    const panel = page.locator('[data-panel="calibration"]');
    await panel.locator('[data-table="before-after"]').waitFor();
    const listed = panel.getByRole('button', { name: 'Remove' });
    expect(await listed.count()).toBe(saved.observations.length);
    await page.reload();
    await panel.locator('[data-table="before-after"]').waitFor();
    expect(await listed.count()).toBe(saved.observations.length);
    // One row less stands in the address too.
    const before = page.url();
    await listed.first().click();
    await page.waitForFunction((url) => window.location.href !== url, before);
    await page.reload();
    await panel.locator('[data-table="before-after"]').waitFor();
    expect(await listed.count()).toBe(saved.observations.length - 1);
    expect(trouble).toEqual([]);
    await close();
  });

  it('reads the walk by a step file beside a trace that logs no voltage', async () => {
    const { page, trouble, close } = await bench.open('/trace');
    const { current, steps } = await walkInTwoFiles();
    await choose(page, 'current-only.csv', current);
    await page.getByRole('heading', { name: 'current-only.csv' }).waitFor();
    await page.getByText('Voltage walk: where').click();
    const field = page.getByLabel('or a file with the table').first();
    const read = page.getByRole('button', { name: 'Read the voltage walk' });
    const stepFile = async (name: string, text: string) => {
      await field.setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
      // The file's text is put in once the browser has read it.
      await expect.poll(() => page.getByLabel(/^Steps: second=volts/).inputValue()).toBe(text);
    };

    // A file without the voltages is refused by its name and line.
    await stepFile('flows.csv', 'time_s,flow_nL_min\n0,300\n1,400\n');
    await read.click();
    await page.locator('.fault').filter({ hasText: 'flows.csv, line 1' }).waitFor();
    expect(await page.locator('[data-walk="voltage"]').count()).toBe(0);

    await stepFile('steps.csv', steps);
    await page.getByLabel('Voltage read at').selectOption('supply');
    await read.click();
    const walk = page.locator('[data-walk="voltage"]');
    await walk.getByText('Going up: steady as far as seen from between 1500 and 1600 V').waitFor();
    const numbers = walk.locator('dl.keys').first();
    expect(await numbers.textContent()).toContain('Onset, going up1300 to 1400 V');
    expect(await numbers.textContent()).toMatch(/Steady window, going up1500 to (above )?1[789]00/);
    await walk.getByText('Hysteresis: the steady window begins').waitFor();
    expect(await walk.getByRole('img', { name: 'Current at each step of the voltage' }).count()).toBe(1);
    await walk.getByText('Each step', { exact: true }).click();
    expect(await walk.getByRole('row').count()).toBe(2 + STEPS_IN_WALK + TOP_STEP_SHARED);
    expect(trouble).toEqual([]);
    await close();
  });

  it('reads typed steps and a flow table, and refuses in words', async () => {
    const { page, trouble, close } = await bench.open('/trace');
    await page.getByText('Flow walk: current against flow').click();
    const flows = page.getByLabel(/^Flows:/);
    await flows.fill('flow_nL_min,current_nA\n50,40\n100,56\n200,81\n400,113');
    await page.getByRole('button', { name: 'Read the flow walk' }).click();
    await page.locator('[data-walk="flow"]').getByText('Exponent of I against Q').waitFor();

    await choose(page, 'two-jets.csv', twoJets().toString());
    await page.getByRole('heading', { name: 'two-jets.csv' }).waitFor();
    await page.getByText('Voltage walk: where').click();
    const steps = page.getByLabel(/^Steps: second=volts/);
    await steps.fill('0=1500, x=1600');
    await page.getByRole('button', { name: 'Read the voltage walk' }).click();
    await page.locator('.fault').filter({ hasText: 'seconds=value' }).waitFor();
    await steps.fill('0=1500, 1=1600, 2=1700, 3=1800, 4=1900');
    await page.getByRole('button', { name: 'Read the voltage walk' }).click();
    const walk = page.locator('[data-walk="voltage"]');
    await walk.getByText(/1\.41 times what one jet would carry at 1800 V: 2 jets/).waitFor();
    await page.getByText(/from one jet to 2 jets, by the square root/).waitFor();
    expect(trouble).toEqual([]);
    await close();
  });
});

for (const scheme of ['light', 'dark'] as const) {
  for (const width of [1440, 390]) {
    it(`is accessible with preview, trace and walks open: ${scheme}, ${width} wide`, async () => {
      const { page, trouble, close } = await bench.open('/trace', { scheme, width, height: 900 });
      await choose(page, 'ways.txt', Array.from({ length: 99 }, (_, k) => `${k};${50 + (k % 5)}`).join('\n'));
      await page.getByRole('region', { name: 'Before it is read' }).waitFor();
      await expectAccessible(page, width, TARGETS);
      await page.getByLabel('Choose a trace').setInputFiles([walkFile, setupFile]);
      await page.getByRole('heading', { name: 'trace-walk.csv' }).waitFor();
      await page.getByRole('button', { name: 'Read the voltage walk' }).click();
      await page.locator('[data-walk="voltage"]').waitFor();
      await page.getByText('Each step', { exact: true }).click();
      await page.getByText('Flow walk: current against flow').click();
      await page.getByLabel(/^Flows:/).fill('flow_nL_min,current_nA\n50,40\n100,56\n200,81\n400,113');
      await page.getByRole('button', { name: 'Read the flow walk' }).click();
      await page.locator('[data-walk="flow"]').waitFor();
      await expectAccessible(page, width, TARGETS);
      expect(trouble).toEqual([]);
      await close();
    });
  }
}
