import { describe, expect, it } from 'vitest';
import { inventedReading } from '../../../test/kit/made-reading.ts';
import type { RunGroup } from '../run-reading.ts';
import { pictureSvg } from './picture.ts';
import { sprayPicture } from './spray-picture.ts';

/** A group whose spray factor is 1 but for a halving in one scan, known to 5 %. */
function group(count: number): RunGroup {
  const [base] = inventedReading({ length_min: 2 }).groups;
  const time_s = Array.from({ length: count }, (_, i) => i + (i >= count / 2 ? 100 : 0));
  const factor = time_s.map((_, i) => (i === 30 ? 0.5 : i === 10 ? null : 1));
  return {
    ...base!,
    interval_s: 1,
    series: { time_s, level: time_s.map(() => 1e7), injection_ms: time_s.map(() => null) },
    spray: {
      from: 'background ions',
      factor,
      error: factor.map((value) => (value === null ? null : 0.05)),
      gain: [],
      gain_error: [],
      matched: [],
      gain_sd: null,
      gain_error_median: null,
      matched_median: 0,
      halves_correlation: null,
      common: 'common',
      background: [],
      periods: [],
      sentences: [],
    },
  };
}

const paths = (picture: ReturnType<typeof sprayPicture>, kind: string) =>
  picture!.marks.filter((mark) => mark.at.class === kind).map((mark) => String(mark.at.d));

describe('the spray picture', () => {
  it('lifts the pen at a hole, and draws the halving at half of its scale', () => {
    const picture = sprayPicture(group(200), { from_s: 0, to_s: 300 }, 900);
    expect(paths(picture, 'd-trace')).toHaveLength(2);
    expect(paths(picture, 'd-liquid')).toHaveLength(2);
    const heights = [...paths(picture, 'd-trace')[0]!.matchAll(/ (\d+(?:\.\d+)?)/g)].map((match) =>
      Number(match[1]),
    );
    const [top, bottom] = [34, 166];
    // Drawn from 1.1 times ln 2 below to ln 1.25 above.
    const [low, high] = [-1.1 * Math.LN2, Math.log(1.25)];
    const at = (log: number) => top! + ((bottom! - top!) * (high! - log)) / (high! - low!);
    expect(Math.max(...heights)).toBeCloseTo(at(-Math.LN2), 1);
    expect(heights.filter((y) => Math.abs(y - at(0)) > 0.01)).toHaveLength(1);
    expect(pictureSvg(picture!)).not.toMatch(/NaN|undefined/);
  });

  it('loses no dip when it thins, and draws nothing it does not know', () => {
    const dense = sprayPicture(group(20_000), { from_s: 0, to_s: 20_100 }, 400);
    const heights = paths(dense, 'd-trace')
      .join(' ')
      .match(/\d+\.\d+/g)!
      .map(Number);
    expect(Math.max(...heights)).toBeGreaterThan(155);
    expect(sprayPicture({ ...group(50), spray: null }, { from_s: 0, to_s: 50 }, 400)).toBeUndefined();
    expect(paths(sprayPicture(group(50), { from_s: 900, to_s: 950 }, 400), 'd-trace')).toEqual([]);
  });
});
