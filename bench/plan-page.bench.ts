/**
 * The plan page in Chromium. Dragging (targets: voltage and composition 20 pictures a second; rim, taper, distance 10): pointer
 * moves come one each frame, as a hand's do, and the frames in which the drawing changed are counted; beside it the main
 * thread's own time for one picture (script, style, layout and paint of Chromium's counters), which no frame rate caps.
 * After a new rim (target 300 ms): until a first estimate of onset and window is painted, and until all solves are in.
 */
import { cpus, loadavg } from 'node:os';
import type { CDPSession } from 'playwright-core';
import { startBenchAndBrowser } from '../test/browser/bench-page.ts';
import { median } from './timing.ts';

const MOVES = 90;
const CHANGES = 15;

process.stdout.write(
  `${cpus().length} processors, load ${loadavg()[0]!.toFixed(1)} before: others' work slows every figure below\n`,
);
const bench = await startBenchAndBrowser();
const { page, close } = await bench.open('/plan');
const fresh = () => page.locator('.numbers[data-stale="false"]').waitFor();
await fresh();
// The runner names inner functions through a helper that the page does not have.
await page.evaluate('globalThis.__name = (f) => f');
const counters = await page.context().newCDPSession(page);
await counters.send('Performance.enable');

await fields('a new rim', '#field-emitter-rim_um', (k) => 30 + k);
await fields('a new distance', '#field-inlet-distance_mm', (k) => 3.2 + k / 10);
await dragged('voltage', 'Tip voltage of the picture', -2, 0, 'apex-curve');
await dragged('rim', 'Rim, drag', 0, 0.5, 'tip');
await dragged('taper', 'Taper half-angle, drag', 0, 0.3, 'tip');
await dragged('distance', 'Tip, drag along the axis', -0.5, 0, 'gap');
await page.getByRole('button', { name: 'Add a gradient' }).click();
await page.locator('[data-gradient-stale="false"]').waitFor();
await slid();
await close();
await bench.close();

async function dragged(name: string, grip: string, dx: number, dy: number, view: string): Promise<void> {
  await fresh();
  const handle = page.getByRole('slider', { name: grip });
  await handle.scrollIntoViewIfNeeded();
  const before = await busy(counters);
  const seen = await handle.evaluate(
    async (element, { dx, dy, moves, view }) => {
      const box = element.getBoundingClientRect();
      let [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      const send = (type: string) =>
        element.dispatchEvent(
          new PointerEvent(type, { clientX: x, clientY: y, pointerId: 1, bubbles: true, cancelable: true }),
        );
      (element as unknown as { setPointerCapture: (id: number) => void }).setPointerCapture = () => {};
      let drawn = 0;
      const watch = new MutationObserver(() => drawn++);
      const drawing = document.querySelector(`svg[data-view="${view}"]`)!;
      watch.observe(drawing, { subtree: true, attributes: true, childList: true, characterData: true });
      send('pointerdown');
      let changed = 0;
      let worst = 0;
      let shown = drawn;
      let last = performance.now();
      const start = last;
      for (let k = 0; k < moves; k++) {
        x += dx;
        y += dy;
        send('pointermove');
        await new Promise(requestAnimationFrame);
        if (drawn === shown) continue;
        shown = drawn;
        changed++;
        worst = Math.max(worst, performance.now() - last);
        last = performance.now();
      }
      const spent = performance.now() - start;
      send('pointerup');
      watch.disconnect();
      return { changed, spent, worst };
    },
    { dx, dy, moves: MOVES, view },
  );
  report(`dragged ${name}`, seen, (await busy(counters)) - before);
}

/** The composition: ruler, chances and jet come from a worker, so their own changes are counted too. */
async function slid(): Promise<void> {
  await page.locator('#organic').scrollIntoViewIfNeeded();
  const before = await busy(counters);
  const seen = await page.evaluate(async (moves) => {
    const field = document.querySelector<HTMLInputElement>('#organic')!;
    const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!;
    const drawn = { 'apex-curve': 0, window: 0 };
    for (const view of ['apex-curve', 'window'] as const)
      new MutationObserver(() => drawn[view]++).observe(document.querySelector(`svg[data-view="${view}"]`)!, {
        subtree: true,
        attributes: true,
        childList: true,
        characterData: true,
      });
    let [changed, followed, worst] = [0, 0, 0];
    let [shown, window] = [drawn['apex-curve'], drawn.window];
    const start = performance.now();
    let last = start;
    for (let k = 0; k < moves; k++) {
      set.call(field, String(10 + k / 2));
      field.dispatchEvent(new Event('input', { bubbles: true }));
      await new Promise(requestAnimationFrame);
      if (drawn.window !== window) {
        window = drawn.window;
        followed++;
      }
      if (drawn['apex-curve'] === shown) continue;
      shown = drawn['apex-curve'];
      changed++;
      worst = Math.max(worst, performance.now() - last);
      last = performance.now();
    }
    return { changed, followed, worst, spent: performance.now() - start };
  }, MOVES);
  report('dragged composition', seen, (await busy(counters)) - before);
  process.stdout.write(
    `  its ruler and chances followed ${perSecond(seen.followed, seen.spent)} times a second\n`,
  );
}

async function fields(name: string, selector: string, value: (k: number) => number): Promise<void> {
  const first: number[] = [];
  const whole: number[] = [];
  for (let k = 0; k < CHANGES; k++) {
    await fresh();
    const { atFirst, atWhole } = await page.evaluate(
      async ({ selector, value }) => {
        const field = document.querySelector<HTMLInputElement>(selector)!;
        const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!;
        const standing = () => document.querySelector('.numbers')?.getAttribute('data-standing');
        const start = performance.now();
        set.call(field, String(value));
        field.dispatchEvent(new Event('input', { bubbles: true }));
        while (standing() !== 'computing') await new Promise(requestAnimationFrame);
        let atFirst = 0;
        while (standing() !== 'whole') {
          if (standing() === 'first estimate' && atFirst === 0) atFirst = performance.now() - start;
          await new Promise(requestAnimationFrame);
        }
        const atWhole = performance.now() - start;
        return { atFirst: atFirst || atWhole, atWhole };
      },
      { selector, value: value(k) },
    );
    first.push(atFirst);
    whole.push(atWhole);
  }
  process.stdout.write(
    `onset and window after ${name}: first estimate in a median of ${median(first).toFixed(0)} ms (worst ${Math.max(...first).toFixed(0)}), all solves in ${median(whole).toFixed(0)} ms (worst ${Math.max(...whole).toFixed(0)}) of ${CHANGES}\n`,
  );
}

function report(name: string, seen: { changed: number; spent: number; worst: number }, ms: number): void {
  process.stdout.write(
    `${name}: ${perSecond(seen.changed, seen.spent)} pictures a second (${seen.changed} of ${MOVES} moves; screen's own rate at most), longest wait ${seen.worst.toFixed(0)} ms; main thread ${(ms / seen.changed).toFixed(1)} ms a picture\n`,
  );
}

function perSecond(count: number, ms: number): string {
  return ((1000 * count) / ms).toFixed(0);
}

/** Main-thread time so far [ms]. */
async function busy(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics');
  return 1000 * (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? 0);
}
