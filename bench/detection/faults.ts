/**
 * Known faults and false friends written into the spectra of a run in memory: each intensity scaled, counting noise
 * redrawn for the ions that are now missing, peaks under the scan's own edge taken out, the fill lengthened up to its
 * maximum, total and base peak rewritten. The weakest peak of a scan is taken for ten ions (judgement).
 */
import { median } from '../../src/core/numeric/robust.ts';
import { type RandomStream, randomStream } from '../../src/core/random.ts';
import type { SeenSpectrum } from '../../src/evidence/index.ts';
import { isSampledCurve } from '../../src/evidence/witness/sampled-curve.ts';
import type { MemoryRun } from './memory-run.ts';

/** Ions in the weakest peak that a scan stores. */
const EDGE_IONS = 10;
/** A list cut to so many peaks has no noise edge: the next ones move up. */
const FIXED_SHARE = 0.9;

export interface Writing {
  /** Factor on a peak of a scan; 1 leaves it. `background` tells ions that stand in most scans. */
  factor(time_s: number, mz: number, background: boolean): number;
  /** Factor on the fill time before fill control answers. */
  fill?(time_s: number, stream: RandomStream): number;
  /** Intensities are ions of a scan: they follow the fill. */
  counts?: boolean;
  /** Another analyser for this scan. */
  analyser?(time_s: number): number | undefined;
}

export function written(run: MemoryRun, writing: Writing, seed: number): MemoryRun {
  const stream = randomStream(seed, 'counting noise');
  const background = backgroundOf(run);
  const fixed = fixedLength(run);
  const record = {
    ...run.record,
    tic_stated: run.record.tic_stated.slice(),
    tic_summed: run.record.tic_summed.slice(),
    base_peak: run.record.base_peak.slice(),
    injection_ms: run.record.injection_ms.slice(),
    analyser: run.record.analyser.slice(),
    analysers: [...run.record.analysers, 'other'],
  };
  let longest = 0;
  for (const fill of run.record.injection_ms) if (fill > longest) longest = fill;
  const spectra = run.spectra.map((seen) => {
    const { row, time_s } = seen;
    const n = seen.mz.length;
    let before = 0;
    let after = 0;
    let changed = false;
    const factors = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      const f = writing.factor(time_s, seen.mz[i]!, background.has(bin(seen.mz[i]!)));
      factors[i] = f;
      if (f !== 1) changed = true;
      before += seen.intensity[i]!;
      after += f * seen.intensity[i]!;
    }
    const moved = writing.fill?.(time_s, stream) ?? 1;
    const analyser = writing.analyser?.(time_s);
    if (analyser !== undefined) record.analyser[row] = record.analysers.length - 1;
    const other = analyser === undefined ? seen.analyser : 'other';
    if (!changed && moved === 1) return { ...seen, analyser: other };
    const fill = record.injection_ms[row]!;
    const wanted = fill * moved * (after > 0 ? before / after : 1);
    const filled = Number.isFinite(fill)
      ? Math.max(Math.min(fill, longest), Math.min(longest, wanted))
      : fill;
    const given = moved !== 1 ? Math.min(longest, fill * moved) : filled;
    const longer = Number.isFinite(fill) && fill > 0 ? given / fill : 1;
    if (Number.isFinite(fill)) record.injection_ms[row] = given;
    if (writing.counts) for (let i = 0; i < n; i++) factors[i] = factors[i]! * longer;
    return { ...rewritten(seen, factors, longer, fixed, stream, record), analyser: other };
  });
  return { ...run, record, spectra };
}

/** Usual and longest fill of an invented fill control [ms]. */
const FILL_MS = { usual: 20, longest: 100 };

/**
 * The run with invented fills that answer to its level, as fill control would set them; with `counts` the intensities
 * become ions of a scan.
 */
export function withFills(run: MemoryRun, counts: boolean): MemoryRun {
  const record = {
    ...run.record,
    injection_ms: run.record.injection_ms.slice(),
    tic_stated: run.record.tic_stated.slice(),
    tic_summed: run.record.tic_summed.slice(),
    base_peak: run.record.base_peak.slice(),
  };
  const usual = median(run.spectra.map(sum));
  const spectra = run.spectra.map((seen) => {
    const share = Math.min(FILL_MS.longest / FILL_MS.usual, usual / Math.max(1e-9, sum(seen)));
    const { row } = seen;
    record.injection_ms[row] = FILL_MS.usual * share;
    if (!counts) return { ...seen, injection_ms: FILL_MS.usual * share };
    for (const values of [record.tic_stated, record.tic_summed, record.base_peak])
      values[row] = values[row]! * share;
    return {
      ...seen,
      injection_ms: FILL_MS.usual * share,
      intensity: seen.intensity.map((level) => level * share),
    };
  });
  return { ...run, record, spectra };
}

function sum(seen: SeenSpectrum): number {
  let total = 0;
  for (const level of seen.intensity) total += level;
  return total;
}

function rewritten(
  seen: SeenSpectrum,
  factors: Float64Array,
  longer: number,
  fixed: boolean,
  stream: RandomStream,
  record: MemoryRun['record'],
): SeenSpectrum {
  const n = seen.mz.length;
  const curve = seen.profile && isSampledCurve(seen.mz);
  let edge = Number.POSITIVE_INFINITY;
  for (const level of seen.intensity) if (level > 0 && level < edge) edge = level;
  const mz = new Float64Array(n);
  const intensity = new Float64Array(n);
  let count = 0;
  let before = 0;
  let sum = 0;
  let base = 0;
  for (let i = 0; i < n; i++) {
    const level = seen.intensity[i]!;
    before += level;
    const ions = (EDGE_IONS * level) / edge;
    const left = Math.max(1e-3, ions * factors[i]! * longer);
    // The noise of the ions that were there is in the data; what their loss adds is drawn.
    const extra = Math.sqrt(Math.max(0, 1 / left - 1 / ions));
    const now = level * factors[i]! * Math.max(0, 1 + Math.min(1, extra) * stream.normal());
    if (!fixed && !curve && now < edge / longer) continue;
    mz[count] = seen.mz[i]!;
    intensity[count++] = now;
    sum += now;
    if (now > base) base = now;
  }
  const ratio = before > 0 ? sum / before : 1;
  record.tic_stated[seen.row] = record.tic_stated[seen.row]! * ratio;
  record.tic_summed[seen.row] = record.tic_summed[seen.row]! * ratio;
  record.base_peak[seen.row] = base;
  return { ...seen, mz: mz.slice(0, count), intensity: intensity.slice(0, count) };
}

function fixedLength(run: MemoryRun): boolean {
  const lengths = new Map<number, number>();
  for (const { mz } of run.spectra) lengths.set(mz.length, (lengths.get(mz.length) ?? 0) + 1);
  return Math.max(...lengths.values()) >= FIXED_SHARE * run.spectra.length;
}

/** m/z to about 15 ppm; neighbours of an edge fall apart, which only makes the background a little smaller. */
export function bin(mz: number): number {
  return Math.round(Math.log(mz) / 15e-6);
}

const BACKGROUND_SHARE = 0.6;
const cache = new WeakMap<object, Set<number>>();

/** Bins filled in most scans of their polarity: the study's own notion, not the reading's. */
export function backgroundOf(run: MemoryRun): Set<number> {
  const known = cache.get(run.spectra);
  if (known) return known;
  const kept = new Set<number>();
  for (const sign of new Set(run.spectra.map(({ polarity }) => Math.sign(polarity)))) {
    const spectra = run.spectra.filter(({ polarity }) => Math.sign(polarity) === sign);
    const seen = new Map<number, number>();
    for (const { mz } of spectra) {
      const here = new Set<number>();
      for (const value of mz) for (const side of [-1, 0, 1]) here.add(bin(value) + side);
      for (const b of here) seen.set(b, (seen.get(b) ?? 0) + 1);
    }
    for (const [b, count] of seen) if (count >= BACKGROUND_SHARE * spectra.length) kept.add(b);
  }
  cache.set(run.spectra, kept);
  return kept;
}
