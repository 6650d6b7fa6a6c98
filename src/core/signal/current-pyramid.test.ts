import { describe, expect, it } from 'vitest';
import { randomStream } from '../random.ts';
import { pyramidBuilder } from './current-pyramid.ts';

function made(count: number, mostBins?: number) {
  const random = randomStream(2, 'pyramid');
  const x = Float64Array.from({ length: count }, () => Math.fround(random.normal()));
  const builder = pyramidBuilder(mostBins);
  for (let at = 0; at < count; at += 777) builder.push(x.subarray(at, at + 777), Math.min(777, count - at));
  return { x, pyramid: builder.end() };
}

describe('pyramid', () => {
  it.each([
    [40_000, undefined],
    [200_000, 1024],
    [65_536, 1024],
  ] as const)(
    '%d samples, at most %s bins: every view holds the lowest and highest sample',
    (count, most) => {
      const { x, pyramid } = made(count, most);
      expect(pyramid.samples).toBe(count);
      if (most) expect(pyramid.low.length).toBeLessThanOrEqual(most);
      for (const [from, to, pixels] of [
        [0, count, 300],
        [1234, 30_000, 500],
        [0, count, 7],
        [100, 140, 50],
      ] as const) {
        const view = pyramid.view(from, to, pixels);
        expect(view.low.length).toBeGreaterThan(0);
        for (let k = 0; k < view.low.length; k++) {
          const part = x.subarray(
            view.first + k * view.samples,
            Math.min(count, view.first + (k + 1) * view.samples),
          );
          expect(view.low[k]).toBe(Math.min(...part));
          expect(view.high[k]).toBe(Math.max(...part));
        }
        expect(view.first).toBeLessThanOrEqual(from);
        expect(view.first + view.low.length * view.samples).toBeGreaterThanOrEqual(Math.min(to, count));
      }
    },
  );

  it('a single spike is seen from any distance, missing samples are passed over', () => {
    const x = new Float64Array(100_000);
    x[54_321] = 9;
    x.fill(Number.NaN, 1000, 2000);
    const builder = pyramidBuilder();
    builder.push(x, x.length);
    const view = builder.end().view(0, x.length, 20);
    expect(Math.max(...view.high)).toBe(9);
    expect(view.low.length).toBeLessThanOrEqual(21);
  });
});
