import { afterAll, beforeAll, expect, it } from 'vitest';
import { exampleSetup } from '../../src/web/plan/example-setup.ts';
import { type BenchAndBrowser, startBenchAndBrowser } from './bench-page.ts';

let bench: BenchAndBrowser;
beforeAll(async () => {
  bench = await startBenchAndBrowser();
  for (const name of ['harbour bench (invented)', 'attic bench (invented)']) {
    const reply = await fetch(`${bench.address}/api/plans`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ ...exampleSetup, name }),
    });
    expect(reply.status).toBe(200);
  }
});
afterAll(() => bench?.close());

it('finds by words and kind, shows the entry and takes a note', async () => {
  const { page, trouble, close } = await bench.open('/bench');
  await page.getByText(/\d+ entries/).waitFor();
  await page.getByLabel('Kind').selectOption('setup');
  await page.getByText('2 entries').waitFor();
  await page.getByLabel('Find words').fill('attic');
  await page.getByText('1 entry').waitFor();
  await page.waitForURL(/q=attic/);
  await page.getByRole('link', { name: /attic bench/ }).click();
  await page.getByRole('heading', { level: 1, name: 'attic bench (invented)' }).waitFor();
  // The new page's heading has the focus, so a screen reader says where one is.
  expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('H1');

  await page.getByRole('button', { name: 'Keep the note' }).click();
  await page.getByText('missing; expected a few words').waitFor();
  await page.getByLabel('What happened').fill('new tip');
  await page.getByLabel('Your name or initials').fill('A. N.');
  await page.getByRole('button', { name: 'Keep the note' }).click();
  await page.getByText('Kept.').waitFor();
  await page.getByRole('link', { name: /new tip/ }).waitFor();
  expect(trouble).toEqual([]);
  await close();
});

it('says what is missing at an unknown entry and an unknown address', async () => {
  const { page, close } = await bench.open('/bench/run-999');
  await page.getByText(/unknown bench item/).waitFor();
  await page.goto(`${bench.address}/nowhere`);
  await page.getByRole('heading', { name: 'There is no page at this address' }).waitFor();
  await close();
});
