import { expect, it } from 'vitest';
import { randomStream } from '../random.ts';
import { besideTally } from './beside-current.ts';

const RATE = 100;
/** Of 300 cells of independent noise, over 61 delays, the best stays below this. */
const BY_CHANCE = 0.35;

function tally(length_s: number, at: (time_s: number) => [current: number, beside: number]) {
  const beside = besideTally(RATE);
  const count = Math.round(length_s * RATE);
  const [i, p] = [new Float64Array(count), new Float64Array(count)];
  for (let k = 0; k < count; k++) [i[k], p[k]] = at(k / RATE);
  for (let from = 0; from < count; from += 77) {
    const past = Math.min(count, from + 77);
    beside.push(i.subarray(from, past), p.subarray(from, past), past - from);
  }
  return beside.end();
}

it('finds a current that follows a pump by its delay', () => {
  const swing = (t: number) => Math.sin((2 * Math.PI * t) / 5);
  const found = tally(40, (t) => [100 + t + 20 * swing(t - 0.7), 90 + 3 * swing(t)])!;
  expect(found.correlation).toBeGreaterThan(0.98);
  // Cells of a tenth of a second.
  expect(Math.abs(found.delay_s - 0.7)).toBeLessThan(0.11);
  expect([found.low, found.high].map(Math.round)).toEqual([87, 93]);
  expect(found.swings).toBeGreaterThanOrEqual(7);
});

it('finds none between what has nothing in common', () => {
  const random = randomStream(3, 'beside');
  const found = tally(30, () => [100 + random.normal(), 90 + random.normal()])!;
  expect(Math.abs(found.correlation!)).toBeLessThan(BY_CHANCE);
});

it('says nothing of a quantity that stands still, is short or is missing', () => {
  expect(tally(30, (t) => [100 + Math.sin(t), 90])!.correlation).toBeNull();
  expect(tally(2, (t) => [Math.sin(t), Math.cos(t)])!.correlation).toBeNull();
  expect(tally(30, () => [1, Number.NaN])).toBeUndefined();
});

it('keeps the mean of any length', () => {
  const found = tally(900, (t) => [100, t])!;
  expect(found.mean).toBeCloseTo(450, 0);
});
