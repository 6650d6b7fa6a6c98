/**
 * The plan page in Chromium: how fast a dragged voltage and a dragged rim are drawn (target 20 and 10 pictures a second), and how long
 * after a geometry change onset and window have followed (target 300 ms).
 */
import { startBenchAndBrowser } from '../test/browser/bench-page.ts';
import { median } from './timing.ts';

const MOVES = 60;
const CHANGES = 12;

const bench = await startBenchAndBrowser();
const { page, close } = await bench.open('/plan');
await page.locator('.numbers[data-stale="false"]').waitFor();
// The runner names inner functions through a helper that the page does not have.
await page.evaluate('globalThis.__name = (f) => f');
const volts = await drag('Tip voltage of the picture', 3, 0, MOVES);
process.stdout.write(
  `dragged voltage: ${(1000 / median(volts)).toFixed(0)} pictures a second (median of ${volts.length}), worst ${Math.max(...volts).toFixed(0)} ms\n`,
);
const rim = await drag('Rim, drag', 0, 0.5, MOVES);
process.stdout.write(
  `dragged rim: ${(1000 / median(rim)).toFixed(0)} pictures a second (median of ${rim.length}), worst ${Math.max(...rim).toFixed(0)} ms\n`,
);
const followed: number[] = [];
for (let k = 0; k < CHANGES; k++) {
  await page.locator('.numbers[data-stale="false"]').waitFor();
  followed.push(
    await page.evaluate(async (rim_um) => {
      const field = document.querySelector<HTMLInputElement>('#field-emitter-rim_um')!;
      const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!;
      const start = performance.now();
      set.call(field, String(rim_um));
      field.dispatchEvent(new Event('input', { bubbles: true }));
      const numbers = () => document.querySelector('.numbers')?.getAttribute('data-stale');
      while (numbers() !== 'true') await new Promise(requestAnimationFrame);
      while (numbers() !== 'false') await new Promise(requestAnimationFrame);
      return performance.now() - start;
    }, 30 + k),
  );
}
process.stdout.write(
  `onset and window after a new rim: median ${median(followed).toFixed(0)} ms, worst ${Math.max(...followed).toFixed(0)} ms of ${CHANGES}\n`,
);
await close();
await bench.close();

/** Milliseconds from each pointer move to the next painted frame. */
async function drag(name: string, dx: number, dy: number, moves: number): Promise<number[]> {
  const grip = page.getByRole('slider', { name });
  await grip.scrollIntoViewIfNeeded();
  return grip.evaluate(
    async (element, { dx, dy, moves }) => {
      const box = element.getBoundingClientRect();
      let [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      const send = (type: string) =>
        element.dispatchEvent(
          new PointerEvent(type, { clientX: x, clientY: y, pointerId: 1, bubbles: true, cancelable: true }),
        );
      (element as unknown as { setPointerCapture: (id: number) => void }).setPointerCapture = () => {};
      send('pointerdown');
      const spent: number[] = [];
      for (let k = 0; k < moves; k++) {
        const start = performance.now();
        x += dx;
        y += dy;
        send('pointermove');
        await new Promise(requestAnimationFrame);
        await new Promise(requestAnimationFrame);
        spent.push(performance.now() - start);
      }
      send('pointerup');
      return spent;
    },
    { dx, dy, moves },
  );
}
