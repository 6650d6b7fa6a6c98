import { describe, expect, it } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { kendall, trend } from './trend.ts';

describe('trends over files', () => {
  it('counts Kendall as by hand: 5 of a kind without ties', () => {
    // S = 10 of 10 pairs; variance 5*4*15/18 = 16.67; z = 9/4.082 = 2.2045; two-sided p 0.0275 (by hand).
    const { slope, p } = kendall([0, 1, 2, 3, 4], [1, 2, 4, 8, 16]);
    expect(p).toBeCloseTo(0.0275, 4);
    // Slopes of all pairs: 1 1.5 2.33 3.75 2 3 4.67 4 6 8: the middle two are 3 and 3.75.
    expect(slope).toBeCloseTo(3.375, 12);
  });

  it('lowers the variance for ties', () => {
    // y = 1 1 2 2: S = 4; variance (4*3*13 - 2*(2*1*9))/18 = 120/18; z = 3/2.582 = 1.1619; p = 0.2453 (by hand).
    expect(kendall([0, 1, 2, 3], [1, 1, 2, 2]).p).toBeCloseTo(0.2453, 4);
    expect(kendall([0, 1, 2], [5, 5, 5]).p).toBe(1);
  });

  it('tells a trend in one of a hundred flat queues', () => {
    const draw = randomStream(5, 'flat');
    let told = 0;
    for (let k = 0; k < 1000; k++) {
      const y = Array.from({ length: 15 }, () => draw.normal());
      if (
        kendall(
          y.map((_, i) => i),
          y,
        ).p < 0.01
      )
        told++;
    }
    // 10 expected; 25 is five standard errors above.
    expect(told).toBeGreaterThan(0);
    expect(told).toBeLessThan(25);
  });

  it('gives the change along the queue in words, and stays silent on few files', () => {
    const rising = Array.from({ length: 21 }, (_, i) => 0.05 * 2 ** (i / 20));
    const found = trend('Scatter', '%', rising, 'log');
    expect(found.change).toBeCloseTo(1, 6);
    expect(found.sentence).toBe('Scatter rises by 100 % over 21 files (p below 0.001).');
    expect(trend('Scatter', '%', rising.slice(0, 7), 'log').p).toBeNull();
    expect(trend('Scatter', '%', [null, null], 'log').sentence).toBe('Scatter: no file tells.');
  });
});
