/**
 * A trace of hours at 100 kS/s on the Trace page in a real browser: chosen through the file field, stopped, read, its walk read, zoomed to
 * single samples and moved at every width. Told: times, progress, memory of the page's process (its worker runs in it), redraws as the page
 * measures them. CURRENT_HOURS (default 0.05; the issue's 3 needs 2.2 GB of disk, deleted at the end). Seeded, invented data; Linux,
 * where the system tells a process's memory. Targets: 512 MB, 50 ms a redraw.
 */
import { loadavg } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { benchPage } from './peers/bench-page.ts';
import { writeLongTrace } from './peers/long-trace.ts';
import { browserProcesses, type ProcessMemory, processMemory } from './peers/process-memory.ts';
import { median } from './timing.ts';

const HOURS = Number(process.env.CURRENT_HOURS ?? 0.05);
const RATE_HZ = 1e5;
const MEMORY_MB = 512;
const REDRAW_MS = 50;
/** Zooms in until single samples are seen, moving at each width; so often. */
const ROUNDS = 3;
const MOVES = ['Later', 'Earlier', 'Earlier', 'Later'] as const;
/** Of a walk; its windows are an eighth of it. */
const SHORT_STEP_S = 4;
const WAIT_MS = 3_600_000;

const say = (line: string) => process.stdout.write(`${line}\n`);
const open = await benchPage('long-trace');
const path = join(open.folder, 'hours.raw');
const { samples } = writeLongTrace(path, { rate_Hz: RATE_HZ, hours: HOURS, seed: 3 });
try {
  say(
    `${HOURS} h at ${RATE_HZ / 1000} kS/s, ${samples.toExponential(2)} int16 samples; load ${loadavg()[0]!.toFixed(2)}`,
  );
  const page = await open.page();
  await page.goto(`${open.address}/trace`);
  await page.getByLabel('Choose a trace').waitFor();
  await page.waitForTimeout(1000);
  await memory('page open, no trace');
  await stopped(page);
  await read(page);
  await memory('read');
  await redraws(page, 'after reading');
  await memory('after the redraws');
  await walked(page);
  await memory('after its walk');
  await redraws(page, 'with the walk over it');
  await memory('at the end');
} finally {
  await open.close();
}

async function chosen(page: Page): Promise<void> {
  await page.getByLabel('Choose a trace').setInputFiles([path, `${path}.json`]);
}

/** Stopped a moment into the reading: how soon the page says so. */
async function stopped(page: Page): Promise<void> {
  await chosen(page);
  await page.waitForFunction(() => (document.querySelector('progress')?.value ?? 0) > 0, undefined, {
    timeout: WAIT_MS,
  });
  const ms = await page.evaluate(async () => {
    const bar = document.querySelector('progress')!;
    const key = [...document.querySelectorAll('button')].find((b) => b.textContent === 'Stop')!;
    const start = performance.now();
    key.click();
    while (bar.isConnected) await new Promise(requestAnimationFrame);
    return performance.now() - start;
  });
  await page.getByText('Stopped. Nothing was kept.').waitFor();
  say(`stopped while reading: the page said so after ${ms.toFixed(0)} ms`);
}

async function read(page: Page): Promise<void> {
  await page.evaluate(() => {
    const seen: number[] = [];
    Object.assign(globalThis, { progressSeen: seen });
    let last = -1;
    const look = () => {
      const now = document.querySelector('progress')?.value;
      if (now !== undefined && now !== last) {
        seen.push(performance.now());
        last = now;
      }
      requestAnimationFrame(look);
    };
    look();
  });
  const start = performance.now();
  await chosen(page);
  const watch = await watched(page.getByRole('button', { name: 'Zoom in' }).waitFor({ timeout: WAIT_MS }));
  const seconds = (performance.now() - start) / 1000;
  const seen = await page.evaluate(() => (globalThis as unknown as { progressSeen: number[] }).progressSeen);
  const silence = Math.max(0, ...seen.slice(1).map((at, k) => at - seen[k]!));
  say(
    `read in ${seconds.toFixed(1)} s (${(samples / seconds / 1e6).toFixed(1)} million samples/s), progress shown ${seen.length} times, at most ${(silence / 1000).toFixed(2)} s apart; resident at its highest ${watch.toFixed(0)} MB`,
  );
  say(`  verdict: ${await page.locator('.verdict').textContent()}`);
}

/** Ten steps, the first shorter than eight windows of the reading: for that the file is read again in shorter ones. */
async function walked(page: Page): Promise<void> {
  const step_s = (HOURS * 3600) / 10;
  const at = (k: number) => (k === 1 ? SHORT_STEP_S : k * step_s);
  const steps = Array.from({ length: 10 }, (_, k) => `${at(k)}=${1300 + 100 * Math.min(k, 9 - k)}`);
  await page.getByText('Voltage walk: where').click();
  await page.getByLabel(/^Steps: second=volts/).fill(steps.join(', '));
  const start = performance.now();
  await page.getByRole('button', { name: 'Read the voltage walk' }).click();
  const watch = await watched(page.locator('[data-walk="voltage"]').waitFor({ timeout: WAIT_MS }));
  say(
    `voltage walk of ten steps: ${((performance.now() - start) / 1000).toFixed(1)} s; resident at its highest ${watch.toFixed(0)} MB`,
  );
}

/** Highest resident memory of a page's process while something is awaited [MB]. */
async function watched(wanted: Promise<unknown>): Promise<number> {
  const ids = (await browserProcesses(open.browser)).filter(({ type }) => type === 'renderer');
  let most = 0;
  const look = () => {
    for (const { id } of ids) most = Math.max(most, processMemory(id).rss_MB);
  };
  const timer = setInterval(look, 100);
  await wanted.finally(() => clearInterval(timer));
  look();
  return most;
}

async function memory(when: string): Promise<void> {
  const all = await browserProcesses(open.browser);
  const of = (type: string): ProcessMemory =>
    all
      .filter((one) => one.type === type)
      .map(({ id }) => processMemory(id))
      .sort((a, b) => b.peak_MB - a.peak_MB)[0]!;
  const page = of('renderer');
  const main = of('browser');
  say(
    `memory, ${when}: page and worker ${page.rss_MB.toFixed(0)} MB resident (${page.anonymous_MB.toFixed(0)} of it its own data), peak ${page.peak_MB.toFixed(0)} (target ${MEMORY_MB}); the browser's main process ${main.rss_MB.toFixed(0)}, peak ${main.peak_MB.toFixed(0)}`,
  );
}

interface Redraw {
  each: number;
  view_ms: number;
  draw_ms: number;
}

/** Each step waits for its picture: no redraw is skipped by the next. */
async function redraws(page: Page, when: string): Promise<void> {
  const seen: Redraw[] = [];
  const step = async (name: string) => {
    const found = await page.evaluate(async (name) => {
      const key = [...document.querySelectorAll('button')].find((b) => b.textContent === name)!;
      const shown = document.querySelector('[data-span]')!.textContent;
      performance.clearMeasures();
      key.click();
      for (let frames = 0; frames < 300; frames++) {
        await new Promise(requestAnimationFrame);
        const [view] = performance.getEntriesByName('current view').slice(-1) as PerformanceMeasure[];
        const [draw] = performance.getEntriesByName('current redraw').slice(-1);
        if (view && draw)
          return { each: view.detail as number, view_ms: view.duration, draw_ms: draw.duration };
        if (frames > 3 && document.querySelector('[data-span]')!.textContent === shown) return undefined;
      }
      throw new Error(`no picture after ${name}`);
    }, name);
    if (found) seen.push(found);
    return found;
  };
  for (let round = 0; round < ROUNDS; round++) {
    await step('Whole trace');
    // To the edge of the trace and somewhere inside it in turn.
    for (let moved = 0; moved < round; moved++) await step('Zoom in');
    for (let zooms = 0; zooms < 20; zooms++) {
      for (const name of MOVES) await step(name);
      if ((await step('Zoom in')) === undefined) break;
    }
    while ((await step('Zoom out')) !== undefined);
  }
  const widths = [...new Set(seen.map(({ each }) => each))].sort((a, b) => b - a);
  say(`${seen.length} redraws ${when}, 1440 px; samples to a stretch from ${widths[0]} to ${widths.at(-1)}`);
  report(
    'from the key to the picture',
    seen.map(({ view_ms }) => view_ms),
  );
  report(
    'drawing alone',
    seen.map(({ draw_ms }) => draw_ms),
  );
  for (const each of widths) {
    const here = seen.filter((one) => one.each === each).map(({ view_ms }) => view_ms);
    say(
      `    ${each === 1 ? 'single samples' : `${each} samples to a stretch`}: ${here.length} times, median ${median(here).toFixed(1)}, worst ${Math.max(...here).toFixed(1)} ms`,
    );
  }
}

function report(name: string, ms: number[]): void {
  ms.sort((a, b) => a - b);
  say(
    `  ${name}: median ${median(ms).toFixed(1)} ms, 95 % ${ms[Math.floor(ms.length * 0.95)]!.toFixed(1)}, worst ${ms.at(-1)!.toFixed(1)} (target ${REDRAW_MS})`,
  );
}
