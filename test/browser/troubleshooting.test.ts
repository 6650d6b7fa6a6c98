/**
 * The whole path on the page, as docs/troubleshooting.md walks it on the command line: a run with a fault is dropped on Read,
 * explained, tested, settled with readings of a rehearsed source, proven, handed over, kept and fed to the plan.
 */
import { mkdtemp, readFile, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { rehearse } from '../../src/app/rehearse.ts';
import type { SettleOpen } from '../../src/contract/index.ts';
import { OBSERVABLES } from '../../src/core/causes/index.ts';
import { hiddenSource } from '../../src/rehearsal/bench/index.ts';
import { expectAccessible } from './accessible.ts';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';

/** The hidden tip of the walk, and the voltage it is left at. */
const SEED = 21;
const VOLTS = 1280;
/** Two rows of targets with their padding; eight links in rows took four [px]. */
const HEADER_PX = 140;
/** A search along one screw needs about ten readings. */
const READINGS_MOST = 30;

let bench: BenchAndBrowser;
let folder: string;
const source = hiddenSource({ seed: SEED });
beforeAll(async () => {
  bench = await startBenchAndBrowser();
  folder = await mkdtemp(join(tmpdir(), 'steadycone-path-'));
  await rehearsed('bad.mzML', 'offset-drift', 0);
});
afterAll(async () => {
  await bench?.close();
  if (folder) await rm(folder, { recursive: true, force: true });
});

async function rehearsed(name: string, fault: string, offset_mm: number): Promise<string> {
  await rehearse(folder, {
    seed: SEED,
    fault,
    faultFrom_s: 60,
    courses: { voltage_V: String(VOLTS), offset_mm: String(offset_mm) },
    trace_s: 1,
    run_s: 240,
    scan_s: 1,
    meter: 'usual',
    formats: ['mzml'],
    force: true,
    peaks: 0,
  });
  await rename(join(folder, 'run.mzML'), join(folder, name));
  return join(folder, name);
}

async function drop(page: Page, path: string): Promise<void> {
  const bytes = (await readFile(path)).toString('base64');
  const carried = await page.evaluateHandle((text) => {
    const data = new DataTransfer();
    data.items.add(new File([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], 'bad.mzML'));
    return data;
  }, bytes);
  await page.dispatchEvent('.drop', 'drop', { dataTransfer: carried });
}

/** In the guide: the safe state line by line, then the answer. */
async function answer(page: Page, id: string, outcome: string): Promise<void> {
  const observable = OBSERVABLES.find((one) => one.id === id)!;
  const words = observable.outcomes.find((one) => one.id === outcome)!.words;
  const title = page.getByRole('heading', { level: 1 });
  for (let k = 0; k < 8 && (await title.textContent()) !== observable.question; k++)
    await page.getByRole('button', { name: 'Done', exact: true }).click();
  await page.locator('.answers button', { hasText: new RegExp(escaped(words), 'i') }).click();
  await page.waitForURL(new RegExp(`/explain\\?.*${id}\\.${outcome}`));
}

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

it('leads from a dropped run with a fault to a proven working point on the bench', {
  timeout: 400_000,
}, async () => {
  const { page, trouble, close } = await bench.open('/read');
  await drop(page, join(folder, 'bad.mzML'));
  await page.waitForURL(/\/read\/reading-\d+$/);
  const reading = page.url().split('/').at(-1)!;
  await page.getByText(/Repeat this run/).waitFor();

  await page.getByRole('link', { name: 'Explain this run' }).click();
  await page.getByRole('heading', { name: 'What do you see at the tip?' }).waitFor();
  await page.getByRole('link', { name: 'Do this test, step by step' }).click();
  await page.waitForURL(/\/explain\/guide\?.*test=meniscus/);
  await answer(page, 'meniscus', 'cone');
  await page.getByText('Your answer:').first().waitFor();
  for (const [id, outcome] of [
    ['current', 'usual'],
    ['nudge', 'rise'],
  ] as const) {
    await page.goto(`${page.url().replace('/explain?', '/explain/guide?')}&test=${id}`);
    await page.locator('.guide-step').waitFor();
    await answer(page, id, outcome);
  }
  await page.locator('.verdict', { hasText: 'lateral offset' }).waitFor();
  await page.locator('.causes summary').first().click();
  await page.getByRole('link', { name: 'Start settling' }).first().click();

  await page.waitForURL(/\/settle\?.*cause=offset-drift/);
  await page.reload();
  await page.getByText(/^Begun because of: lateral offset, drift or a bent emitter/).waitFor();
  await page.getByText(`Reading ${reading} of bad.mzML.`).waitFor();
  await page.getByLabel('Emitter', { exact: true }).fill('tip 7');
  await page.getByLabel('Instrument', { exact: true }).fill('Lantern bench');
  await page.getByLabel('Voltage, now').fill(String(VOLTS));
  await page.getByLabel('Sideways, x, now').fill('-0.8');
  await page.getByRole('checkbox', { name: 'Voltage' }).uncheck();
  await page.getByRole('checkbox', { name: 'Distance to the inlet' }).uncheck();
  await page.getByLabel('What matters').selectOption('level');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(/\/settle\/settle-\d+$/);
  const id = page.url().split('/').at(-1)!;
  await page.getByText(/^Begun because of: lateral offset/).waitFor();

  const open = async () => (await (await fetch(`${bench.address}/api/settlings/${id}`)).json()) as SettleOpen;
  let before: Parameters<typeof source.at>[2] = 'no spray';
  let k = 0;
  for (; k < READINGS_MOST; k++) {
    const { advice } = await open();
    if (advice.kind === 'done') break;
    const { level, regime } = source.at(advice.to, k, before);
    before = regime;
    if (advice.asks_for_yes) await page.getByRole('checkbox', { name: advice.question! }).check();
    await page.getByLabel('Level read there').fill(String(Math.max(1, Math.round(1e8 * level))));
    await page.getByLabel('Scatter [%]').fill('5');
    await page.getByRole('button', { name: /Add the reading/ }).click();
    await page.getByRole('heading', { name: `Readings: ${k + 1}`, exact: true }).waitFor();
  }
  const { advice } = await open();
  expect(advice.kind).toBe('done');
  const at = advice.best!.at.lateral_x_mm;

  await page.getByRole('heading', { name: 'Settled: now prove it' }).waitFor();
  const after = await rehearsed('after.mzML', 'none', at);
  await page.getByLabel('Choose a run file, or drop it anywhere in this frame').setInputFiles(after);
  const proof = page.getByText(/^Before -> after: level/);
  await proof.waitFor();
  expect(await proof.textContent()).toMatch(/grade repeat -> keep;.*Better: this reading speaks/);

  const [over] = await Promise.all([
    page.waitForEvent('popup'),
    page.getByRole('link', { name: 'Hand-over, one page' }).click(),
  ]);
  await over.getByRole('heading', { name: 'The reading that proves it' }).waitFor();
  await over.getByText(/Begun because of: lateral offset/).waitFor();
  const pdf = (await over.pdf({ format: 'A4' })).toString('latin1');
  expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  await over.close();

  await page.getByRole('button', { name: 'Keep the working point on the bench' }).click();
  await page.getByRole('link', { name: 'point-1' }).click();
  await page.getByRole('heading', { level: 1, name: /tip 7: 1280 V.*proven better/ }).waitFor();
  await page.goto(`${bench.address}/bench?kind=point`);
  await page.getByRole('link', { name: /working point tip 7/ }).click();
  const { document } = await (await fetch(`${bench.address}/api/bench/point-1`)).json();
  expect(document).toMatchObject({
    emitter: 'tip 7',
    instrument: 'Lantern bench',
    proof: { outcome: 'better' },
  });
  expect(document.observations.length).toBeGreaterThan(0);
  await page.getByRole('link', { name: 'Calibrate the plan with it' }).click();
  await page.waitForURL(/\/plan\?.*\bo=/);
  await page
    .locator('[data-panel="calibration"] li')
    .filter({ hasText: /1\s280\sV at the supply: steady/ })
    .waitFor();
  const kept = await (await fetch(`${bench.address}/api/export`)).json();
  expect(kept.items.filter(({ item }: { item: { kind: string } }) => item.kind === 'point')).toHaveLength(1);
  expect(trouble).toEqual([]);
  await close();
});

it.each(['light', 'dark'] as const)('can be read and touched by everybody, %s', async (scheme) => {
  const paths = [
    '/settle?cause=offset-drift&reading=reading-1',
    '/settle/settle-1',
    '/bench/point-1',
    '/explain/guide?test=nudge&reading=reading-1',
  ];
  for (const width of [1440, 390])
    for (const path of paths) {
      const { page, close } = await bench.open(path, { scheme, width, height: 900 });
      await page.locator('main h1').waitFor();
      await page.waitForLoadState('networkidle');
      await expectAccessible(page, width, 'main button:visible, main select:visible, main summary:visible');
      const shots = process.env.STEADYCONE_SHOTS;
      if (shots)
        await page.screenshot({
          path: join(shots, `${path.replace(/\W+/g, '-')}-${width}-${scheme}.png`),
          fullPage: true,
        });
      await close();
    }
});

it('folds the pages and the older readings away on a phone', async () => {
  const { page, trouble, close } = await bench.open('/settle/settle-1', { width: 390, height: 844 });
  const rows = page.locator('[data-table="readings"] tbody tr:visible');
  await page.getByRole('button', { name: /^All \d+ readings$/ }).waitFor();
  expect(await rows.count()).toBe(3);
  await page.getByRole('button', { name: /^All \d+ readings$/ }).click();
  expect(await rows.count()).toBeGreaterThan(3);
  const header = await page.locator('header.top').boundingBox();
  expect(header!.height).toBeLessThan(HEADER_PX);
  await page.getByText('Pages: Settle').click();
  await page.getByRole('link', { name: 'Bench', exact: true }).click();
  await page.waitForURL(/\/bench$/);
  await page.getByText('Pages: Bench').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('opens a session for nothing, a wrong cause and a lost reading in words', async () => {
  const { page, close } = await bench.open('/settle?cause=gremlins');
  await page.getByText(/unknown cause: gremlins/).waitFor();
  await page.getByRole('button', { name: 'Begin' }).waitFor();
  await page.goto(`${bench.address}/settle?cause=offset-drift&reading=reading-999`);
  await page.getByText(/unknown bench item/).waitFor();
  await page.goto(`${bench.address}/settle?cause=offset-drift&probability=much`);
  await page.getByText(/out of range probability: much/).waitFor();
  await close();
});
