import { expect, test } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { IonSteps, type IonsOverTime, STEP_S } from './ion-passages.ts';
import { PeakList } from './peak-list.ts';

const INTERVAL_S = 2;
const TOLERANCE_PPM = 10;

function followed(scans: number, peaks: (t: number) => { mz: number; level: number }[]): IonsOverTime {
  const steps = new IonSteps();
  const list = new PeakList();
  for (let i = 0; i < scans; i++) {
    const here = peaks(i * INTERVAL_S);
    list.take(
      Float64Array.from(here, ({ mz }) => mz),
      Float64Array.from(here, ({ level }) => level),
      false,
    );
    steps.take(i * INTERVAL_S, list, TOLERANCE_PPM);
  }
  return steps.finish(TOLERANCE_PPM);
}

test('a standing ion is one passage over the run, an eluting one a short passage at its time', () => {
  const stream = randomStream(3, 'jitter');
  const ions = followed(300, (t) => {
    const jitter = () => 1 + 2e-6 * stream.normal();
    const peaks = [{ mz: 445.12 * jitter(), level: 1e5 }];
    if (t >= 200 && t < 240) peaks.push({ mz: 700.35 * jitter(), level: 4e5 });
    return peaks;
  });
  expect(ions.step_s).toBe(STEP_S);
  expect(ions.steps).toBe(60);
  expect(ions.passages).toHaveLength(2);
  const [standing, passing] = ions.passages;
  expect(standing?.log).toHaveLength(60);
  expect(passing).toMatchObject({ first: 20 });
  expect(passing?.log).toHaveLength(4);
  // Rounded to a hundredth.
  expect(Math.abs((passing?.log[1] ?? 0) - Math.log(4e5))).toBeLessThan(0.011);
  // Half the scatter of four scans by 2 ppm.
  expect(Math.abs((passing?.mz ?? 0) / 700.35 - 1)).toBeLessThan(2e-6);
});

test('a step that is missed is null, two ends the passage; single steps are dropped', () => {
  const there = (t: number): boolean => t < 50 || (t >= 60 && t < 100) || (t >= 120 && t < 130);
  const ions = followed(100, (t) => (there(t) ? [{ mz: 500, level: 10 }] : [{ mz: 300, level: 10 }]));
  const passage = ions.passages.find(({ mz }) => mz === 500);
  expect(passage?.log).toHaveLength(10);
  expect(passage?.log[5]).toBeNull();
  expect(ions.passages.filter(({ mz }) => mz === 500)).toHaveLength(1);
});

test('a very long run keeps every second step, twice as long', () => {
  const ions = followed(4000, () => [{ mz: 500, level: 10 }]);
  expect(ions.step_s).toBe(2 * STEP_S);
  expect(ions.steps).toBe(400);
  expect(ions.passages).toHaveLength(1);
});

test('times that step back take no part', () => {
  const steps = new IonSteps();
  const list = new PeakList();
  list.take(Float64Array.of(500), Float64Array.of(10), false);
  for (const t of [0, 5, 30, 3, 35, 60]) steps.take(t, list, TOLERANCE_PPM);
  expect(steps.finish(TOLERANCE_PPM).steps).toBe(7);
});

test('a time far off ends in longer steps, not in endless ones', () => {
  const steps = new IonSteps();
  const list = new PeakList();
  list.take(Float64Array.of(500), Float64Array.of(10), false);
  for (const t of [0, 10, 1e300, 1.5e300, Number.MAX_VALUE]) steps.take(t, list, TOLERANCE_PPM);
  const ions = steps.finish(TOLERANCE_PPM);
  expect(ions.steps).toBeLessThanOrEqual(720);
  expect(Number.isFinite(ions.step_s)).toBe(true);
});
