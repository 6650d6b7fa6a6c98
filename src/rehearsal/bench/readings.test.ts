import { expect, it } from 'vitest';
import { readingLog, settledLevel } from './readings.ts';

const at = { voltage_V: 1000, flow_nL_min: 300, distance_mm: 3, offset_mm: 0, high_voltage: true };
const ticks = (seconds: number, value: number) => new Float32Array(seconds * 200).fill(value);

it('counts a setting that is held, not one that is passed', () => {
  const log = readingLog();
  log.add(at, ticks(3, 1e-7), [{ time_s: 1, level: 0.5 }], 0.005);
  log.add({ ...at, voltage_V: 1010 }, ticks(0.5, 1e-7), [], 0.005);
  log.add({ ...at, voltage_V: 1020 }, ticks(1.9, 1e-7), [], 0.005);
  expect(log.readings().map((reading) => reading.controls.voltage_V)).toEqual([1000]);
  log.add({ ...at, voltage_V: 1020 }, ticks(0.2, 1e-7), [], 0.005);
  expect(log.readings().map((reading) => reading.controls.voltage_V)).toEqual([1000, 1020]);
});

it('leaves out the first half second, and scans that began at the setting before', () => {
  const log = readingLog();
  log.add(at, ticks(0.5, 9e-7), [], 0.005);
  log.add(
    at,
    ticks(5, 2e-7),
    [1, 2, 3].map((k) => ({ time_s: k, level: k })),
    0.005,
  );
  const [reading] = log.readings();
  // One tick of 5 ms at the border.
  expect(reading!.current_nA).toBeGreaterThan(199);
  expect(reading!.current_nA).toBeLessThan(203);
  expect(reading!.level).toBe(2);
  expect(reading!.level_scatter).toBeCloseTo(0.5, 12);
  log.add({ ...at, offset_mm: 1 }, ticks(3, 1e-7), [{ time_s: 5, level: 7 }], 0.005);
  expect(log.readings()[1]!.level).toBeUndefined();
});

it('judges a point by its mean signal since the last knob was turned', () => {
  const level = settledLevel();
  for (let k = 0; k < 10; k++) level.add(at, 0.1, 0.1);
  expect(level.mean()).toBeCloseTo(0.1, 12);
  level.add({ ...at, voltage_V: 1200 }, 0.2, 0.1);
  expect(level.mean()).toBe(0.2);
  for (let k = 0; k < 10; k++) level.add({ ...at, voltage_V: 1200 }, k % 2 === 0 ? 1 : 0, 0.1);
  expect(level.mean()).toBeGreaterThan(0.3);
  expect(level.mean()).toBeLessThan(0.7);
});
