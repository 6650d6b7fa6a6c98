/**
 * A real LC-MS/MS run on every machine: the mzXML file inside the npm package mzdata 3.0.0 (MIT), read by our reader and
 * by that package itself, an independent general reader that holds the whole file in memory.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import type { RunRecord } from '../../src/formats/index.ts';
import { type ReadRun, readRunFile } from '../../src/formats-node/index.ts';

/** Both readers parse the same decimal digits; only the last bit may differ. */
const TIME_TOLERANCE_s = 1e-9;
/** Sums of the same 32-bit values in the same order; the bound leaves room for another order. */
const SUM_TOLERANCE = 1e-9;

interface OtherRun {
  times: number[];
  series: { ms: { data: [Float64Array, Float64Array][]; info: Record<string, string | number>[] } };
}

const require = createRequire(import.meta.url);
const PACKAGE = 'mzdata';
const path = join(dirname(require.resolve(`${PACKAGE}/package.json`)), 'src/mzxml/lcMsMs.mzXML');

let read: ReadRun;
let run: RunRecord;
let other: { time_s: number; sum: number; peaks: number; tic: number }[];
let otherCount = 0;

beforeAll(async () => {
  read = await readRunFile(path);
  run = read.record;
  const { parseMZ } = require(PACKAGE) as { parseMZ: (bytes: Uint8Array) => Promise<OtherRun> };
  const parsed = await parseMZ(readFileSync(path));
  const { data, info } = parsed.series.ms;
  otherCount = data.length;
  other = info.flatMap((attributes, i) => {
    if (Number(attributes.msLevel) !== 1) return [];
    const intensities = data[i]![1];
    const sum = intensities.reduce((total, value) => total + value, 0);
    return [
      { time_s: parsed.times[i]!, sum, peaks: intensities.length, tic: Number(attributes.totIonCurrent) },
    ];
  });
});

it('finds 736 MS1 among 3899 scans, whole and without a warning', () => {
  expect(run.format).toBe('mzXML');
  expect(run.ms1_count).toBe(736);
  expect(run.spectra_by_level).toEqual([0, 736, 3163]);
  expect(otherCount).toBe(3899);
  expect(other).toHaveLength(736);
  expect(run.broken).toBeUndefined();
  expect(run.warnings).toEqual([]);
  expect(read.bytes).toBe(7_788_921);
});

it('agrees with the other reader on every time, sum, peak count and stated TIC', () => {
  expect(other.length).toBe(run.ms1_count);
  other.forEach((row, i) => {
    expect(Math.abs(run.time_s[i]! - row.time_s)).toBeLessThanOrEqual(TIME_TOLERANCE_s);
    expect(Math.abs(run.tic_summed[i]! / row.sum - 1)).toBeLessThanOrEqual(SUM_TOLERANCE);
    expect(run.peak_count[i]).toBe(row.peaks);
    expect(run.tic_stated[i]).toBe(row.tic);
  });
});

it('shows that the stored intensities are not the stated TIC', () => {
  const ratios = [...run.tic_summed].map((sum, i) => sum / run.tic_stated[i]!).sort((a, b) => a - b);
  const median = ratios[Math.floor(ratios.length / 2)]!;
  console.info(
    `packaged run: stored sum over stated TIC, median ${median.toFixed(3)}, ${ratios[0]!.toFixed(3)} to ${ratios.at(-1)!.toFixed(3)}`,
  );
  // Computed with both readers: this file states far more than it stores, as filtered files do.
  expect(median).toBeGreaterThan(0);
  expect(Math.abs(median - 1)).toBeGreaterThan(0.1);
});

it('gives rising times, one polarity and one analyser', () => {
  for (let i = 1; i < run.ms1_count; i += 1) expect(run.time_s[i]!).toBeGreaterThan(run.time_s[i - 1]!);
  expect(new Set(run.polarity)).toEqual(new Set([1]));
  expect(run.analysers).toEqual(['FTMS']);
});
