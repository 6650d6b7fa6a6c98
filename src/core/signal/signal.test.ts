import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { boxes } from './boxes.ts';
import { dips } from './dips.ts';
import { endFade, endLoss } from './end-loss.ts';
import { scanScatter } from './scan-scatter.ts';

const BOX = { sigma: 0.05, least_log: 0.16, shortest_s: 10, longest_s: 600, neighbourhood_s: 60 };

function noisy(n: number, sd: number, shape: (time_s: number) => number = () => 0) {
  const stream = randomStream(11, 'signal test');
  const time_s = Float64Array.from({ length: n }, (_, i) => i);
  return { time_s, log: time_s.map((t) => shape(t) + sd * stream.normal()) };
}

test('scatter from scan to scan is that of the noise, on a slope as on a level', () => {
  for (const slope of [0, 0.05]) {
    const { time_s, log } = noisy(4000, 0.1, (t) => slope * t);
    const scatter = scanScatter(time_s, log, 60, 21).overall;
    // Neighbouring differences are correlated: twice the standard error of an independent sample, three of them.
    expect(Math.abs(scatter / 0.1 - 1)).toBeLessThan((3 * 2 * 1.17) / Math.sqrt(4000));
  }
});

test('a dip of two samples and one of forty are found with their depth', () => {
  const { time_s, log } = noisy(600, 0.05, (t) => (t === 200 || t === 201 || (t >= 300 && t < 340) ? -2 : 0));
  const { local } = scanScatter(time_s, log, 60, 21);
  const found = dips(time_s, log, local);
  expect(found.map((dip) => [dip.first, dip.past])).toEqual([
    [200, 202],
    [300, 340],
  ]);
  for (const dip of found) expect(Math.abs(dip.reference - dip.inside - 2)).toBeLessThan(0.15);
});

test('a bump, a valley entered by degrees and a step are no dips and no boxes', () => {
  const bump = (t: number): number => 3 * Math.exp(-(((t - 300) / 8) ** 2));
  const valley = (t: number): number => Math.min(2, Math.abs(t - 300) / 15);
  const step = (t: number): number => (t > 300 ? -1.2 : 0);
  for (const shape of [bump, valley, step]) {
    const { time_s, log } = noisy(600, 0.05, shape);
    const { local } = scanScatter(time_s, log, 60, 21);
    expect(dips(time_s, log, local)).toEqual([]);
    expect(boxes(time_s, log, BOX).boxes).toEqual([]);
  }
});

test('a box of a fifth for a minute is found to within two samples', () => {
  const depth = -Math.log(0.8);
  const { time_s, log } = noisy(900, 0.03, (t) => (t >= 400 && t < 460 ? -depth : 0));
  const found = boxes(time_s, log, { ...BOX, sigma: 0.03 }).boxes;
  expect(found).toHaveLength(1);
  expect(Math.abs(found[0]!.first - 400)).toBeLessThanOrEqual(2);
  expect(Math.abs(found[0]!.past - 460)).toBeLessThanOrEqual(2);
  expect(Math.abs(found[0]!.reference - found[0]!.inside - depth)).toBeLessThan(0.05);
});

test('a collapse to the end is found where it begins; a slow decline is none', () => {
  const lost = noisy(400, 0.05, (t) => (t >= 380 ? -4 : 0));
  expect(endLoss(lost.time_s, lost.log, 0.05)?.first).toBe(380);
  const decline = noisy(400, 0.05, (t) => (t >= 300 ? -(t - 300) / 20 : 0));
  expect(endLoss(decline.time_s, decline.log, 0.05)).toBeUndefined();
});

test('a slow fade to a twentieth that lasts to the end is found; a gradient end that halves the level is none', () => {
  const faded = noisy(480, 0.05, (t) => (t < 150 ? 0 : t < 230 ? -(t - 150) / 10 : -8));
  const found = endFade(faded.time_s, faded.log)!;
  expect(found.first).toBeGreaterThan(170);
  expect(found.first).toBeLessThan(200);
  expect(Math.abs(found.reference - found.inside - 8)).toBeLessThan(0.2);
  const halved = noisy(480, 0.05, (t) => (t < 240 ? 0 : -1.5));
  expect(endFade(halved.time_s, halved.log)).toBeUndefined();
  const gradient = noisy(480, 0.05, (t) => (t < 90 || t > 330 ? -4 : 0));
  expect(endFade(gradient.time_s, gradient.log)).toBeUndefined();
  // What comes back is a sag or a dropout, told elsewhere.
  const back = noisy(480, 0.05, (t) => (t > 200 && t < 420 ? -8 : 0));
  expect(endFade(back.time_s, back.log)).toBeUndefined();
});
