import { expect, it } from 'vitest';
import { pictureSvg } from '../../core/picture.ts';
import { benchMemory } from './memory.ts';
import type { BenchFrame } from './rehearse-worker.ts';
import { tipMarks } from './tip-marks.ts';
import { currentCsv, currentMarks, signalMarks, zoomMarks } from './trace-marks.ts';

const controls = { voltage_V: 1000, flow_nL_min: 300, distance_mm: 3, offset_mm: 0, high_voltage: true };
const start = { rim_um: 21, stated_rim_um: 20, bore_um: 10, taper_deg: 8, rate_Hz: 1e6 };

function frameOf(time_s: number, mean_A: number, ticks: number): BenchFrame {
  const stats = new Float32Array(3 * ticks);
  for (let k = 0; k < ticks; k++) stats.set([mean_A - 1e-8, mean_A + 1e-8, mean_A], 3 * k);
  return {
    state: { time_s } as BenchFrame['state'],
    picture: { kind: 'empty', r_um: [], z_um: [], jets_deg: [], drop_um: 0, jet_um: 0 },
    ticks: stats,
    zoom: new Float32Array(500),
    scans: [{ time_s: time_s - 1, level: 0.5 }],
  };
}

it('keeps the last twenty seconds and forgets what is older', () => {
  const memory = benchMemory();
  expect(memory.lately(1)).toBeUndefined();
  for (let s = 1; s <= 25; s++) memory.add(frameOf(s, s * 1e-8, 200), controls);
  expect(memory.filled).toBe(4000);
  expect(memory.lately(1)!.mean_A).toBeCloseTo(25e-8, 12);
  const lines = currentCsv(memory).trim().split('\n');
  expect(lines[0]).toContain('invented data');
  expect(lines.length).toBe(2 + 4000);
  expect(lines[2]).toBe('5.000,50.000,70.000,60.000');
  expect(lines.at(-1)).toBe('24.995,240.000,260.000,250.000');
  expect(memory.scans.length).toBe(25);
  for (let s = 26; s <= 200; s++) memory.add(frameOf(s, 0, 200), controls);
  expect(memory.scans[0]!.time_s).toBeGreaterThan(75);
});

it('draws every trace, empty or full, without a number that is none', () => {
  const memory = benchMemory();
  for (const seconds of [0, 3, 30]) {
    for (let s = 0; s < seconds; s++) memory.add(frameOf(s + 1, 1e-7, 200), controls);
    for (const picture of [
      currentMarks(memory, 500, 180),
      signalMarks(memory, 500, 180),
      zoomMarks(new Float32Array(500), 1e6, 500, 180),
    ]) {
      const svg = pictureSvg(picture);
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
      expect(picture.marks.length).toBeGreaterThan(5);
    }
  }
});

it('draws the tip to the scale its bar states, and leaves the liquid out when hidden', () => {
  const dome = {
    kind: 'solved' as const,
    r_um: [0, 5, 10],
    z_um: [8, 6, 0],
    jets_deg: [],
    drop_um: 0,
    jet_um: 0.3,
  };
  const { picture } = tipMarks(start, dome, 900, 290);
  const bar = picture.marks.find((mark) => mark.at.class === 'd-bar')!;
  const label = picture.marks.find((mark) => mark.text?.endsWith('µm'))!;
  const perUm = Number(bar.at.width) / Number.parseFloat(label.text!);
  const outline = picture.marks.find((mark) => mark.at.class === 'd-trace')!;
  const ys = [...String(outline.at.d).matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((match) => Number(match[1]));
  expect((Math.max(...ys) - Math.min(...ys)) / (20 * perUm)).toBeCloseTo(1, 2);
  expect(picture.title).toContain('meniscus solved');
  const hidden = tipMarks(start, undefined, 900, 290).picture;
  expect(hidden.title).toContain('meniscus hidden');
  expect(hidden.marks.some((mark) => mark.at.class === 'd-trace')).toBe(false);
});

it('steps its scale for a drop and says that it is composed', () => {
  const drop = { kind: 'drop' as const, r_um: [], z_um: [], jets_deg: [], drop_um: 150, jet_um: 0 };
  const { picture } = tipMarks(start, drop, 900, 290);
  expect(picture.title).toContain('composed, not solved');
  const circle = picture.marks.find((mark) => mark.shape === 'circle')!;
  expect(Number(circle.at.r)).toBeLessThan(145);
  expect(Number(circle.at.r)).toBeGreaterThan(20);
});
