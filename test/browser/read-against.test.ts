/** A run held against good ones on the page: a file chosen beside it, a reading of the bench, the same numbers as elsewhere. */
import { mkdtemp, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readAgainst } from '../../src/evidence/against/index.ts';
import type { RunReading } from '../../src/evidence/run-reading.ts';
import { runOfMethod } from '../kit/made-method-pair.ts';
import { expectAccessible } from './accessible.ts';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());

const file = (name: string, text: string) => ({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });
const step = file(
  'step.mzML',
  runOfMethod(7, 3, (t) => (t < 270 ? 1 : 0.6)),
);
const good = file(
  'good.mzML',
  runOfMethod(7, 1, () => 1),
);
const second = file(
  'second.mzML',
  runOfMethod(7, 2, () => 1),
);
const other = file(
  'method.mzML',
  runOfMethod(9, 4, () => 1),
);

const readingOf = async (id: string): Promise<RunReading> =>
  (await (await fetch(`${bench.address}/api/bench/${id}`)).json()).document;

it('takes a file and a reading as good runs, shows the step, and refuses another method', async () => {
  const { page, trouble, close } = await bench.open('/read');
  await page.getByLabel('Choose a run file').setInputFiles(second);
  await page.waitForURL(/\/read\/reading-1$/);
  await page.getByRole('link', { name: 'Read another run' }).click();
  await page.getByLabel('Choose a run file').setInputFiles(step);
  await page.waitForURL(/\/read\/reading-2$/);

  const part = page.getByRole('region', { name: 'Against good runs' });
  await part.getByLabel('or a run file, read now and kept').setInputFiles(good);
  await page.waitForURL(/\/read\/reading-2\?against=reading-3$/);
  await part.getByText('Which of the two runs changed').waitFor();
  await part.getByLabel('A good run of the same method').selectOption('reading-1');
  await page.waitForURL(/against=reading-3,reading-1$/);

  const expected = readAgainst(await readingOf('reading-2'), [
    { name: 'good.mzML (reading-3)', reading: await readingOf('reading-3') },
    { name: 'second.mzML (reading-1)', reading: await readingOf('reading-1') },
  ]);
  expect(expected.events.map(({ kind }) => kind)).toEqual(['step']);
  await part.getByRole('listitem').getByText(expected.events[0]!.sentence).waitFor();
  for (const sentence of [...expected.sentences, ...expected.undecided])
    await part.getByText(sentence, { exact: true }).waitFor();
  await part.getByRole('img', { name: /^Ratio to the good runs by standing ions/ }).waitFor();

  const saved = async (name: string, role: 'button' | 'link') => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      part.getByRole(role, { name }).click(),
    ]);
    return readFile(await download.path(), 'utf8');
  };
  expect((await saved('Ratio as CSV', 'button')).split('\r\n')).toHaveLength(
    expected.series!.time_s.length + 2,
  );
  expect(await saved('Ratio as SVG', 'button')).toMatch(/^<svg /);
  expect(await saved('Report with it as HTML', 'link')).toContain(expected.events[0]!.sentence);

  // The address alone brings it back; what is left out goes from it.
  await page.reload();
  await part.getByRole('listitem').getByText(expected.events[0]!.sentence).waitFor();
  await part.getByRole('button', { name: 'Leave out reading-1' }).click();
  await page.waitForURL(/against=reading-3$/);
  await part.getByRole('button', { name: 'Leave out reading-3' }).click();
  await page.waitForURL(/\/read\/reading-2$/);
  await part.getByLabel('or a run file, read now and kept').setInputFiles(other);
  await part.getByText('method.mzML (reading-4) cannot serve as the good run: other ions').waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('holds each file of a queue against the good files before it', async () => {
  const night = await mkdtemp(join(tmpdir(), 'steadycone-night-'));
  for (let number = 1; number <= 4; number++) {
    const text = runOfMethod(7, 20 + number, (t) => (number === 4 && t >= 270 ? 0.6 : 1));
    await writeFile(join(night, `run_${number}.mzML`), text);
    const time = Date.UTC(2031, 1, 3, 20) / 1000 + 600 * number;
    await utimes(join(night, `run_${number}.mzML`), time, time);
  }
  await bench.readQueue(night, 'night');
  await rm(night, { recursive: true, force: true });
  const { page, trouble, close } = await bench.open('/queue?of=night');
  await page.getByRole('button', { name: 'Compare the files' }).click();
  const part = page.getByRole('region', { name: 'Each file against the good files before it' });
  await part.getByText('run_2.mzML: fewer than 2 good files stand before it.').waitFor();
  await part.getByText(/^run_3\.mzML: flat\. Usual ratio/).waitFor();
  await part.getByText(/^run_4\.mzML: From 4:\d\d min on this run stays/).waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('says what cannot be read, and what the bench does not know', async () => {
  const { page, trouble, close } = await bench.open('/read/reading-2?against=reading-77');
  const part = page.getByRole('region', { name: 'Against good runs' });
  await part.getByText('unknown bench item').waitFor();
  await part.getByLabel('or a run file, read now and kept').setInputFiles(file('letter.mzML', 'hello'));
  await part.getByText('Not read: invalid run file').waitFor();
  expect(trouble.filter((line) => !/status of 4\d\d/.test(line))).toEqual([]);
  await close();
});

it.each([
  ['light', 1440],
  ['dark', 390],
] as const)('stands in %s at %i px: axe finds nothing, nothing scrolls sideways', async (scheme, width) => {
  const { page, trouble, close } = await bench.open('/read/reading-2?against=reading-3', { scheme, width });
  await page
    .getByRole('listitem')
    .getByText(/^From 4:/)
    .waitFor();
  await expectAccessible(page, width, 'main button:visible, main select:visible, main .load input:visible');
  if (process.env.SHOTS) {
    const part = page.getByRole('region', { name: 'Against good runs' });
    await part.screenshot({ path: `${process.env.SHOTS}/against-${scheme}-${width}.png` });
  }
  expect(trouble).toEqual([]);
  await close();
});
