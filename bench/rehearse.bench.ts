/**
 * The rehearsed bench in a real browser, through its fastest meter (1 MS/s): pictures a second, gaps between them, and bench time
 * over clock time (1: real time), at places of the voltage axis with different work. Then the samples a second that the worker's
 * code makes in this process, one thread. Targets: 60 pictures a second, real time. REHEARSE_SECONDS (default 10) a place.
 */
import type { Page } from 'playwright-core';
import { createBench, METERS, TICK_S } from '../src/rehearsal/index.ts';
import { benchPage } from './peers/bench-page.ts';

const SEED = 24;
const SECONDS = Number(process.env.REHEARSE_SECONDS ?? 10);
const { truth, tip } = createBench({ seed: SEED });
const onset = tip.onset(truth.contactRadius, 3e-3, truth.liquid.surfaceTension);
const between = (share: number) => 1 + share * (truth.steadyFrom - 1);
const PLACES: readonly (readonly [string, number])[] = [
  ['dripping', 0.8],
  ['pulsating', between(0.6)],
  ['cone-jet', truth.bestRatio],
  ['several jets', truth.severalFrom * 1.05],
];

alone();
await inBrowser();

/** In this process, without a page. */
function alone(): void {
  for (const [name, ratio] of PLACES) {
    const bench = createBench({ seed: SEED, meter: METERS.wide });
    const samples = new Float32Array(bench.samplesPerTick);
    const controls = {
      voltage_V: ratio * onset,
      flow_nL_min: 300,
      distance_mm: 3,
      offset_mm: 0,
      high_voltage: true,
    };
    const ticks = 1000;
    for (let k = 0; k < ticks; k++) bench.tick(controls, samples);
    const start = performance.now();
    for (let k = 0; k < ticks; k++) bench.tick(controls, samples);
    const s = (performance.now() - start) / 1000;
    line(
      `alone, set for ${name}`,
      `${((ticks * bench.samplesPerTick) / s / 1e6).toFixed(1)} MS/s, ${((ticks * TICK_S) / s).toFixed(1)} times real time (it was ${bench.state.regime})`,
    );
  }
}

async function inBrowser(): Promise<void> {
  const open = await benchPage('rehearse');
  try {
    const page = await open.page();
    await page.goto(`${open.address}/rehearse?seed=${SEED}&meter=wide`);
    await page.locator('.rehearse[data-ready="true"]').waitFor({ timeout: 120_000 });
    for (const [name, ratio] of PLACES) {
      await page
        .getByRole('slider', { name: /^Voltage/ })
        .fill(String(Math.round((ratio * onset) / 10) * 10));
      await page.waitForTimeout(3000);
      const seen = await watch(page, SECONDS);
      line(
        `in Chromium, set for ${name}`,
        `${(seen.pictures / seen.clock_s).toFixed(1)} pictures a second, gaps: 95 % ${at(seen.gaps_ms, 0.95)} ms, worst ${at(seen.gaps_ms, 1)} ms; bench over clock ${(seen.bench_s / seen.clock_s).toFixed(3)} (it was ${seen.regime})`,
      );
    }
  } finally {
    await open.close();
  }
}

interface Watched {
  pictures: number;
  clock_s: number;
  bench_s: number;
  gaps_ms: number[];
  regime: string;
}

/** Follows the first canvas's count of drawings frame by frame. */
function watch(page: Page, seconds: number): Promise<Watched> {
  return page.evaluate(
    (length) =>
      new Promise<Watched>((done) => {
        const canvas = document.querySelector('canvas')!;
        const bench = document.querySelector<HTMLElement>('.rehearse')!;
        const drawings = () => Number(canvas.dataset.drawings);
        const at = () => Number(canvas.dataset.benchS);
        const gaps_ms: number[] = [];
        const [began, first, benchBegan] = [performance.now(), drawings(), at()];
        let [before, drawn] = [began, first];
        const step = () => {
          const now = performance.now();
          if (drawings() > drawn) {
            gaps_ms.push(now - before);
            before = now;
            drawn = drawings();
          }
          if (now - began < length * 1000) requestAnimationFrame(step);
          else
            done({
              pictures: drawn - first,
              clock_s: (now - began) / 1000,
              bench_s: at() - benchBegan,
              gaps_ms,
              regime: bench.dataset.regime ?? 'hidden',
            });
        };
        requestAnimationFrame(step);
      }),
    seconds,
  );
}

function at(values: readonly number[], share: number): string {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN).toFixed(0);
}

function line(name: string, words: string): void {
  process.stdout.write(`${name}: ${words}\n`);
}
