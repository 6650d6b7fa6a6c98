/** The plan page's pictures and panels in a real browser: voltage on the curve, dragging, gradient, compare, calibration. */
import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { type BenchAndBrowser, startBenchAndBrowser, type WatchedPage } from './bench-page.ts';

let bench: BenchAndBrowser;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  bench = await startBenchAndBrowser();
});
afterAll(() => bench?.close());
beforeEach(async () => {
  watched = await bench.open('/plan');
  page = watched.page;
  await fresh();
});
afterEach(async () => {
  const { trouble } = watched;
  await watched.close();
  expect(trouble).toEqual([]);
});

const fresh = () => page.locator('.numbers[data-stale="false"]').waitFor();
const big = async (key: string) =>
  (await page.locator(`.keys [data-number="${key}"] .big`).textContent())?.trim();
const tipWords = () => page.locator('svg[data-view="tip"]').innerHTML();
const volts = () => page.getByRole('slider', { name: 'Tip voltage of the picture' });

const downloaded = async (name: string) => {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name }).click(),
  ]);
  return readFile(await download.path(), 'utf8');
};
/** Drags the ring of the apex curve to a share of the curve's width. */
async function chooseShare(share: number): Promise<void> {
  const grip = (await volts().boundingBox())!;
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  const box = (await page.locator('svg[data-view="apex-curve"]').boundingBox())!;
  await page.mouse.move(box.x + share * box.width, box.y + box.height / 2, { steps: 4 });
  await page.mouse.up();
}

/** Notes the tip view's words and greyness at each change of the drawing. */
const WATCH_LABELS = `globalThis.labelsSeen = [];
new MutationObserver(() => {
  const view = document.querySelector('svg[data-view="tip"]');
  const liquid = view.querySelector('[data-truth]');
  const label = [...view.querySelectorAll('text.d-text')].find((t) => t.getAttribute('text-anchor') === 'end').textContent;
  globalThis.labelsSeen.push({ label, grey: liquid.style.opacity !== '' });
}).observe(document.querySelector('.picture'), { subtree: true, childList: true, attributes: true, characterData: true });`;
const WATCH_STANDING = `globalThis.standingsSeen = [];
new MutationObserver(() => {
  const numbers = document.querySelector('.numbers');
  globalThis.standingsSeen.push({
    standing: numbers.dataset.standing,
    note: numbers.querySelector('[data-note]')?.textContent ?? '',
    advised: numbers.querySelector('[data-number="advised_supply_V"] .big').textContent,
  });
}).observe(document.querySelector('.numbers'), { subtree: true, childList: true, attributes: true, characterData: true });`;
const SECOND = `name: a made-up second
emitter: { bore_um: 20, rim_um: 40 }
liquid: { acetonitrile_percent: 30, additive: formic acid, additive_percent: 0.1 }
feed: { kind: pumped, flow_nL_min: 250 }
polarity: positive
inlet: { distance_mm: 4 }
voltage: { contact: tip, column: [] }
`;

it('chooses the voltage on the apex curve: solved below the turn, composed and labelled above', async () => {
  expect(await tipWords()).toContain('composed, not solved');
  const before = Number(await volts().getAttribute('aria-valuenow'));
  await volts().focus();
  await page.keyboard.press('ArrowLeft');
  await expect.poll(async () => Number(await volts().getAttribute('aria-valuenow'))).toBe(before - 10);
  const curve = page.locator('svg[data-view="apex-curve"]');
  const box = (await curve.boundingBox())!;
  const grip = (await volts().boundingBox())!;
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.2 * box.width, box.y + box.height / 2, { steps: 8 });
  await page.mouse.up();
  await expect.poll(tipWords).toContain('meniscus solved');
  expect(await tipWords()).not.toContain('composed, not solved');
  expect(await volts().getAttribute('aria-valuetext')).toContain('below onset');
});

it('draws a dragged rim at once, and the onset follows', async () => {
  const onset = await big('onset_V');
  const rim = page.getByRole('slider', { name: 'Rim, drag' });
  const grip = (await rim.boundingBox())!;
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2 + 30, { steps: 6 });
  await page.mouse.up();
  // The view fits the rim: the value follows the pointer by the scale it was taken at, it does not run away.
  const dragged = Number(await page.getByLabel('Rim at the tip').inputValue());
  expect(dragged).toBeGreaterThan(24);
  expect(dragged).toBeLessThan(60);
  await fresh();
  await expect.poll(() => big('onset_V')).not.toBe(onset);
  const distance = page.getByRole('slider', { name: 'Tip, drag along the axis' });
  await distance.focus();
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => page.getByLabel('Distance').inputValue()).toBe('3.05');
});

it('offers grips of 44 px', async () => {
  for (const slider of await page.locator('svg [role="slider"]').all()) {
    const box = (await slider.boundingBox())!;
    expect(box.width).toBeGreaterThanOrEqual(43.5);
    expect(box.height).toBeGreaterThanOrEqual(43.5);
  }
});

it('shows chances that it exports', async () => {
  await page.getByRole('img', { name: /^Chances over the tip/ }).waitFor();
  const [csv] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Chances as CSV' }).click(),
  ]);
  const rows = (await readFile(await csv.path(), 'utf8')).trim().split('\n');
  expect(rows[0]).toBe('voltage_V,below_onset,pulsating,steady,tilted,several_jets,discharge');
  for (const row of rows.slice(1)) {
    const [, ...shares] = row.split(',').map(Number);
    expect(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 1)).toBeLessThan(1e-3);
  }
});

it('never calls an outline solved that is not of the values on the page', async () => {
  await chooseShare(0.2);
  await expect.poll(tipWords).toContain('meniscus solved');
  await page.evaluate(WATCH_LABELS);
  for (const [label, value] of [
    ['Distance', '5'],
    ['Measured surface tension', '40'],
    ['Rim at the tip', '30'],
  ] as const) {
    await page.getByLabel(label).fill(value);
    await fresh();
  }
  // Between a changed value and its answer the drawing said so each time, and was grey then and only then.
  const seen = await page.evaluate<{ label: string; grey: boolean }[]>('globalThis.labelsSeen');
  expect(seen.filter(({ label }) => label === 'being solved…').length).toBeGreaterThanOrEqual(3);
  for (const { label, grey } of seen) expect(grey).toBe(label !== 'meniscus solved');
  await page.getByLabel('Bore at the tip').fill('abc');
  await expect.poll(tipWords).toContain('of the last faultless set-up');
  await page.getByText('nothing is being solved until they are mended').waitFor();
  await page.getByLabel('Bore at the tip').fill('10');
  await fresh();
});

it('keeps the chosen voltage while a rim is dragged', async () => {
  await chooseShare(0.2);
  const chosen = await volts().getAttribute('aria-valuenow');
  const grip = (await page.getByRole('slider', { name: 'Rim, drag' }).boundingBox())!;
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  for (let k = 1; k <= 6; k++) {
    await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2 + 4 * k);
    // Below the onset there is no jet at any moment of the drag.
    expect(await page.locator('svg[data-view="tip"] .d-jet').count()).toBe(0);
  }
  await page.mouse.up();
  await fresh();
  expect(await volts().getAttribute('aria-valuenow')).toBe(chosen);
  expect(await tipWords()).toContain('meniscus solved');
});

it('lets go of a grip that the browser takes away', async () => {
  const rim = page.getByRole('slider', { name: 'Rim, drag' });
  for (const end of ['pointercancel', 'lostpointercapture']) {
    const moved = await rim.evaluate(async (element, end) => {
      const box = element.getBoundingClientRect();
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      (element as unknown as { setPointerCapture: (id: number) => void }).setPointerCapture = () => {};
      const value = () => element.getAttribute('aria-valuenow');
      const send = async (type: string, dy: number) => {
        element.dispatchEvent(
          new PointerEvent(type, {
            clientX: x,
            clientY: y + dy,
            pointerId: 7,
            bubbles: true,
            cancelable: true,
          }),
        );
        await new Promise(requestAnimationFrame);
        await new Promise(requestAnimationFrame);
        return value();
      };
      await send('pointerdown', 0);
      const held = await send('pointermove', 12);
      await send(end, 12);
      return { held, after: await send('pointermove', 60) };
    }, end);
    expect(moved.held).not.toBeNull();
    expect(moved.after).toBe(moved.held);
  }
});

it('marks the discharge limit by polarity on the window ruler', async () => {
  const ruler = page.getByRole('img', { name: /^Voltages at the tip/ });
  expect(await ruler.getAttribute('aria-label')).toMatch(/discharge limit, positive, \d/);
  expect(await ruler.locator('[data-mark="discharge"]').count()).toBe(1);
  await page.getByText('never go past it').waitFor();
  await page.getByLabel('Polarity').selectOption('negative');
  await expect.poll(() => ruler.getAttribute('aria-label')).toContain('discharge limit, negative');
  await page.getByText('weakly known in negative polarity').first().waitFor();
});

it('carries the high-voltage caution past the limit, and says none advised where nothing helps', async () => {
  expect(await page.locator('[data-caution="voltage"]').count()).toBe(0);
  await chooseShare(0.97);
  await expect.poll(() => page.locator('[data-caution="voltage"]').textContent()).toContain('do not set it');
  await page.getByLabel('Distance').fill('50');
  await page.getByLabel('Rim at the tip').fill('350');
  await fresh();
  await expect.poll(() => big('advised_supply_V')).toBe('none advised');
  expect(await page.locator('.ledger [data-number="advised_supply_V"]').textContent()).toContain(
    'none advised',
  );
});

it('follows the gradient by a slider and exports chart, run and ramp', async () => {
  await page.getByRole('button', { name: 'Add a gradient' }).click();
  await page.locator('[data-gradient-stale="false"]').waitFor();
  await page.getByRole('img', { name: /^Supply window along the gradient/ }).waitFor();
  const jetWords = async () =>
    (await page.locator('.views figcaption').last().textContent())?.match(/jet is \S+/)?.[0];
  const own = [
    await page.getByRole('img', { name: /^Voltages at the tip/ }).getAttribute('aria-label'),
    await page.getByRole('img', { name: /^Chances over the tip/ }).getAttribute('aria-label'),
    await jetWords(),
  ];
  const slider = page.getByLabel(/^Organic at the tip/);
  await slider.fill('60');
  await page.getByText('lost in the liquid (middle values)').waitFor();
  // Ruler, chances and jet are of the composition too.
  await page.locator('[data-organic="60"]').waitFor();
  const ruler = page.getByRole('img', { name: /^Voltages at the tip/ });
  const chances = page.getByRole('img', { name: /^Chances over the tip/ });
  const at60 = [
    await ruler.getAttribute('aria-label'),
    await chances.getAttribute('aria-label'),
    await jetWords(),
  ];
  const turn = await page.locator('svg[data-view="apex-curve"]').innerHTML();
  await page.getByRole('button', { name: 'Back to the set-up' }).click();
  await expect.poll(() => page.locator('svg[data-view="apex-curve"]').innerHTML()).not.toBe(turn);
  for (const [k, words] of own.entries()) expect(words).not.toBe(at60[k]);
  const [ramp] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Ramp as CSV' }).click(),
  ]);
  expect(await readFile(await ramp.path(), 'utf8')).toMatch(/^time_min,/);
});

it('is calibrated by what was seen, before beside after, and keeps it with the plan', async () => {
  const before = await big('onset_V');
  await page.getByLabel('Voltage [V]').fill('1500');
  await page.getByLabel('Seen there').selectOption('onset here');
  await page.getByRole('button', { name: 'Add what was seen' }).click();
  await page.locator('[data-table="before-after"]').waitFor();
  await expect.poll(() => big('onset_V')).not.toBe(before);
  expect(await big('onset_V')).toMatch(/1.?[345]\d0/);
  await page.getByRole('button', { name: 'Keep this plan' }).click();
  await page.getByText(/Kept as plan-\d+/).waitFor();
  const own = await big('onset_V');
  await page.getByLabel('The plan is for a sibling').check();
  await page.getByText(/For a sibling of the emitter that was seen/).waitFor();
  await expect.poll(() => big('onset_V')).not.toBe(own);
  await page.getByLabel('The plan is for a sibling').uncheck();
  await expect.poll(() => big('onset_V')).toBe(own);
  await page.getByLabel('Voltage [V]').fill('much');
  await page.getByRole('button', { name: 'Add what was seen' }).click();
  await page.getByText('invalid observations.0.tip_V').waitFor();
});

it('compares with a set-up put aside, in words', async () => {
  await page.getByRole('button', { name: 'Put this set-up aside' }).click();
  await page.getByText('No number differs by more than 1 %.').waitFor();
  await page.getByLabel('Flow rate').fill('900');
  await page.locator('[data-table="differences"]').waitFor();
  expect(await page.locator('[data-table="differences"]').textContent()).toMatch(
    /more, (within|beyond) the range/,
  );
  await page.getByRole('button', { name: 'End the comparison' }).click();
  expect(await page.locator('[data-table="differences"]').count()).toBe(0);
});

it('compares with a set-up from a file or pasted, both solved tips to one scale', async () => {
  const panel = page.locator('[data-panel="compare"]');
  await panel.getByText('Compare with another set-up').click();
  await panel.getByLabel('Set-up file to compare with').setInputFiles({
    name: 'second.yaml',
    mimeType: 'application/yaml',
    buffer: Buffer.from(SECOND),
  });
  const tips = panel.locator('svg[data-view="tip"]');
  await expect.poll(() => tips.count()).toBe(2);
  const scales = await tips.evaluateAll((views) => views.map((view) => view.getAttribute('data-px-per-um')));
  expect(scales[0]).toBe(scales[1]);
  for (const tip of await tips.all()) expect(await tip.innerHTML()).toContain('meniscus solved');
  await panel.getByText('Put aside: a made-up second').waitFor();
  const table = page.locator('[data-table="differences"]');
  expect(await table.textContent()).toMatch(/Onset.*V/);
  const csv = await downloaded('Both sets of numbers as CSV');
  expect(csv).toMatch(/^quantity,unit,put_aside/);
  expect(await downloaded('Tips as SVG')).toContain('meniscus solved');
  await panel.getByLabel('or paste its text here').fill(SECOND.replace('rim_um: 40', 'rim_um: -1'));
  await panel.getByRole('button', { name: 'Compare with this text' }).click();
  await panel.getByText('out of range emitter.rim_um').waitFor();
  await panel.getByLabel('or paste its text here').fill(SECOND.replace('second', 'third'));
  await panel.getByRole('button', { name: 'Compare with this text' }).click();
  await panel.getByText('Put aside: a made-up third').waitFor();
});

it('loads a set-up into the form', async () => {
  await page.getByText('Load a set-up (YAML or JSON)').click();
  await page.getByLabel('Set-up file', { exact: true }).setInputFiles({
    name: 'second.yaml',
    mimeType: 'application/yaml',
    buffer: Buffer.from(SECOND),
  });
  await expect.poll(() => page.getByLabel('Rim at the tip').inputValue()).toBe('40');
  await fresh();
});

it('exports every plot as SVG and its data as CSV', async () => {
  await chooseShare(0.2);
  expect(await downloaded('Gap as CSV')).toMatch(/^part,x_mm,y_mm\nemitter,-3,/);
  expect(await downloaded('Outline as CSV')).toMatch(/^tip_V,r_um,z_um,shown_as\n.*,0,.*,solved\n/);
  expect(await downloaded('Apex curve as CSV')).toMatch(/^tip_V,apex_height_um\n/);
  expect(await downloaded('Window as CSV')).toMatch(/\ndischarge|\n"discharge/);
  expect(await downloaded('Window as SVG')).toContain('discharge limit, positive');
  expect(await downloaded('Chances as SVG')).toContain('tilted');
});

it('names every state of the chances at narrow width', async () => {
  const narrow = await bench.open('/plan', { width: 390, height: 800 });
  const chances = narrow.page.getByRole('img', { name: /^Chances over the tip/ });
  await chances.waitFor();
  const box = (await chances.boundingBox())!;
  for (const state of [
    'below onset',
    'pulsating',
    'steady cone-jet',
    'tilted',
    'several jets',
    'discharge',
  ]) {
    const name = (await chances.locator('text.d-text-soft', { hasText: state }).boundingBox())!;
    expect(name.x).toBeGreaterThanOrEqual(box.x);
    expect(name.x + name.width).toBeLessThanOrEqual(box.x + box.width);
  }
  expect(narrow.trouble).toEqual([]);
  await narrow.close();
});

it('shows a first estimate as such before the whole answer', async () => {
  await page.evaluate(WATCH_STANDING);
  await page.getByLabel('Rim at the tip').fill('31');
  await page.locator('.numbers[data-standing="computing"]').waitFor();
  await fresh();
  const seen =
    await page.evaluate<{ standing: string; note: string; advised: string }[]>('globalThis.standingsSeen');
  const first = seen.filter(({ standing }) => standing === 'first estimate');
  expect(first.length).toBeGreaterThan(0);
  for (const { note, advised } of first) {
    expect(note).toMatch(/^First estimate of onset and window, from 2 of 5 solves/);
    expect(advised).toBe('…');
  }
});

it('ends with how to start and how to park, each step with its caution', async () => {
  const steps = page.locator('.sequence > li');
  expect(await steps.count()).toBeGreaterThan(7);
  for (const step of await steps.all()) expect(await step.textContent()).toContain('Caution:');
});
