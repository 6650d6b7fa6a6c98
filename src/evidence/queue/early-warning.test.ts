import { describe, expect, it } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { FALSE_ALARM_SHARE, HORIZON_FILES, warningChart, warningLimit } from './early-warning.ts';

const BASELINE = 10;
/** Of 2000 sound queues; the share of a 5 % event is then known to 0.5 %, and the limit adds about as much. */
const QUEUES = 2000;
const SHARE_TOLERANCE = 0.02;

function series(seed: number, count: number, spread: number, shift: (i: number) => number): number[] {
  const draw = randomStream(seed, 'queue');
  return Array.from({ length: count }, (_, i) => 0.06 * Math.exp(spread * draw.normal() + shift(i)));
}

describe('the early warning', () => {
  it('alarms in about one of twenty sound queues, both charts together', () => {
    const limit = warningLimit(BASELINE, 2);
    const alarms = (seed: number) =>
      warningChart(
        'scatter',
        series(seed, BASELINE + HORIZON_FILES, 0.2, () => 0),
        limit,
        BASELINE,
      )?.alarm != null;
    let count = 0;
    for (let k = 0; k < QUEUES; k++) if (alarms(3 * k + 7) || alarms(3 * k + 900_001)) count++;
    expect(Math.abs(count / QUEUES - FALSE_ALARM_SHARE)).toBeLessThan(SHARE_TOLERANCE);
  });

  it('warns within six files when the scatter doubles, and not before', () => {
    const limit = warningLimit(BASELINE, 2);
    let found = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const values = series(seed, 40, 0.15, (i) => (i >= 20 ? Math.LN2 : 0));
      const alarm = warningChart('scatter', values, limit, BASELINE)?.alarm ?? Number.POSITIVE_INFINITY;
      if (alarm >= 20 && alarm < 26) found++;
    }
    expect(found).toBeGreaterThanOrEqual(90);
  });

  it('is not moved by one file, however odd', () => {
    const limit = warningLimit(BASELINE, 2);
    const values = Array.from({ length: 30 }, (_, i) => 0.06 * Math.exp(0.1 * Math.sin(5 * i)));
    values[18] = 60;
    expect(warningChart('scatter', values, limit, BASELINE)?.alarm).toBeNull();
  });

  it('passes over files without a value and waits for its baseline', () => {
    const limit = warningLimit(BASELINE, 2);
    const values: (number | null)[] = Array.from({ length: 14 }, (_, i) => (i % 2 ? null : 20));
    expect(warningChart('injection time', values, limit, BASELINE)).toBeUndefined();
    values.push(...Array.from({ length: 6 }, () => 20));
    const chart = warningChart('injection time', values, limit, BASELINE)!;
    expect(chart.baseline).toEqual([0, 2, 4, 6, 8, 10, 12, 14, 15, 16]);
    expect(chart.e.slice(0, 17).every((value) => value === null)).toBe(true);
    expect(chart.e.slice(17)).toEqual([0, 0, 0]);
  });
});
