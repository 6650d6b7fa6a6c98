/** A run read with its set-up on the page: chosen from a file, kept on the bench, chosen from there again; phases and pressure shown. */
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { RunReading } from '../../src/evidence/run-reading.ts';
import { methodSetupText, runWithPressure } from '../kit/made-method.ts';
import { expectAccessible } from './accessible.ts';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';

let bench: BenchAndBrowser;
const run = runWithPressure(7);
const runFile = { name: 'night-1.mzML', mimeType: 'text/plain', buffer: Buffer.from(run.text) };
beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());

const PHASES = 'Phases of the method, each judged by itself';

it('reads a run with a set-up from a file, shows its phases and the pressure, and finds the set-up on the bench next time', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page.getByText('A set-up from a file').click();
  await page.getByLabel('Set-up file').setInputFiles({
    name: 'short.yaml',
    mimeType: 'text/plain',
    buffer: Buffer.from(methodSetupText),
  });
  const choice = page.getByLabel('Set-up of this run, if you have it');
  await expect.poll(() => choice.inputValue()).toBe('file');
  await page.getByLabel('Choose a run file').setInputFiles(runFile);
  await page.waitForURL(/\/read\/reading-\d+$/);
  await page.getByRole('heading', { name: PHASES }).waitFor();
  const id = page.url().split('/').at(-1);
  const { document } = await (await fetch(`${bench.address}/api/bench/${id}`)).json();
  const reading = document as RunReading;
  expect(reading.method!.phases.map(({ name }) => name)).toEqual([
    'injection and dead time',
    'elution',
    'wash',
    're-equilibration',
  ]);
  for (const { sentence } of reading.method!.phases)
    await page.getByRole('listitem').getByText(sentence, { exact: true }).waitFor();
  await page
    .getByText(/^Found from the gradient table of the set-up "Short gradient \(invented\)"/)
    .waitFor();
  await page.getByRole('listitem').getByText(reading.traces![0]!.sentence, { exact: true }).waitFor();
  // The pressure that fell with the level stands beside that event.
  expect(reading.events.some((event) => event.beside?.[0]?.startsWith('Pressure fell by 25 %'))).toBe(true);
  await page.getByText('Pressure fell by 25 % meanwhile').waitFor();
  await page.getByRole('heading', { name: /^Minutes to trust: \d+ % of the time that is judged$/ }).waitFor();

  for (const [words, start] of [
    ['Report as HTML', '<!doctype html>'],
    ['Metrics as mzQC', '{\n "mzQC"'],
  ] as const) {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: words }).click(),
    ]);
    expect((await readFile(await download.path(), 'utf8')).startsWith(start)).toBe(true);
  }

  const side = page.getByRole('img', { name: /^Phases of the method: injection and dead time/ });
  expect(await side.getByText('Pressure, bar').count()).toBe(1);
  const drawn = await side.locator('path.d-trace').getAttribute('d');
  await page.getByRole('button', { name: 'Zoom in' }).click();
  await expect.poll(() => side.locator('path.d-trace').getAttribute('d')).not.toBe(drawn);

  await page.goto(`${bench.address}/read`);
  await choice.selectOption({ label: 'Short gradient (invented) (setup-1)' });
  await page.getByLabel('Choose a run file').setInputFiles(runFile);
  await page.waitForURL(/\/read\/reading-\d+$/);
  await page.getByRole('heading', { name: PHASES }).waitFor();
  // The same bytes by the same set-up are the same reading.
  expect(page.url().split('/').at(-1)).toBe(id);

  await page.goto(`${bench.address}/read`);
  await page.getByLabel('Minutes to leave out').fill('0-3');
  await page.getByLabel('Choose a run file').setInputFiles(runFile);
  await page.waitForURL(/\/read\/reading-\d+$/);
  await page.getByText('0.00 to 3.00 min: asked for.').waitFor();
  expect(await page.getByRole('heading', { name: PHASES }).count()).toBe(0);
  expect(trouble).toEqual([]);
  await close();
});

it('says what is wrong with a set-up: no gradient in a file, an id the bench does not know', async () => {
  const { page, trouble, close } = await bench.open('/read?setup=setup-77');
  await page.getByLabel('Choose a run file').setInputFiles(runFile);
  await page.getByText('Not read: unknown bench item').waitFor();
  await page.getByText('A set-up from a file').click();
  await page
    .getByRole('textbox', { name: 'or paste its text here' })
    .fill(methodSetupText.replace(/^gradient:[\s\S]*$/m, ''));
  await page.getByRole('button', { name: 'Use this set-up' }).click();
  await page.getByText('missing gradient').waitFor();
  expect(trouble.filter((line) => !line.includes('status of 404'))).toEqual([]);
  await close();
});

it.each([
  ['light', 1440],
  ['dark', 1440],
  ['light', 390],
  ['dark', 390],
] as const)('stands in %s at %i px: nothing scrolls sideways, axe finds nothing', async (scheme, width) => {
  const shots = process.env.SHOTS;
  const setup = await fetch(`${bench.address}/api/setups`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify((await import('yaml')).parse(methodSetupText)),
  });
  const { setup_id } = await setup.json();
  const reply = await fetch(`${bench.address}/api/runs?name=night-1.mzML&setup=${setup_id}`, {
    method: 'PUT',
    headers: { 'content-type': 'application/octet-stream' },
    body: run.text,
  });
  const { reading_id } = await reply.json();
  for (const [name, path, ready] of [
    ['choose', '/read', 'input[type=file]'],
    ['reading', `/read/${reading_id}`, '.queue-picture'],
  ] as const) {
    const { page, trouble, close } = await bench.open(path, { width, scheme });
    await page.locator(ready).first().waitFor({ state: 'attached' });
    await page.waitForTimeout(300);
    if (shots) {
      await mkdir(shots, { recursive: true });
      await page.screenshot({ path: join(shots, `${name}-${scheme}-${width}.png`), fullPage: true });
      const trace = page.locator('section[aria-label="Trace"]');
      if ((await trace.count()) > 0)
        await trace.screenshot({ path: join(shots, `trace-${scheme}-${width}.png`) });
    }
    await expectAccessible(page, width, 'button:visible, input:visible, select:visible, summary:visible');
    expect(trouble).toEqual([]);
    await close();
  }
});
