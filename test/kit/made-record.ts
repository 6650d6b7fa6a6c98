/** Run records made in a test from plain columns, as a reader of files would return them. */
import type { RunRecord } from '../../src/formats/run-record.ts';

export interface MadeScan {
  time_s: number;
  tic?: number;
  summed?: number;
  injection_ms?: number;
  polarity?: number;
  low?: number;
  high?: number;
  analyser?: number;
}

export function madeRecord(scans: readonly MadeScan[], parts: Partial<RunRecord> = {}): RunRecord {
  const column = (value: (scan: MadeScan) => number | undefined): Float64Array =>
    Float64Array.from(scans, (scan) => value(scan) ?? Number.NaN);
  return {
    format: 'mzML',
    ms1_count: scans.length,
    time_s: column((scan) => scan.time_s),
    tic_stated: column((scan) => scan.tic),
    tic_summed: column((scan) => scan.summed ?? scan.tic),
    base_peak: column((scan) => scan.tic),
    peak_count: Uint32Array.from(scans, () => 100),
    injection_ms: column((scan) => scan.injection_ms),
    polarity: Int8Array.from(scans, (scan) => scan.polarity ?? 1),
    window_low: column((scan) => scan.low ?? 350),
    window_high: column((scan) => scan.high ?? 1600),
    analyser: Uint16Array.from(scans, (scan) => scan.analyser ?? 0),
    analysers: [''],
    profile: new Uint8Array(scans.length),
    spectra_by_level: [0, scans.length],
    traces: [],
    invented: false,
    warnings: [],
    ...parts,
  };
}

/** Fails when anything in the document is not plain JSON: NaN, an infinity, undefined, a typed array. */
export function jsonFault(value: unknown, path = '$'): string | undefined {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return undefined;
  if (typeof value === 'number') return Number.isFinite(value) ? undefined : `${path} is ${value}`;
  if (Array.isArray(value)) {
    for (const [i, item] of value.entries()) {
      const fault = jsonFault(item, `${path}[${i}]`);
      if (fault) return fault;
    }
    return undefined;
  }
  if (typeof value === 'object' && Object.getPrototypeOf(value) === Object.prototype) {
    for (const [key, item] of Object.entries(value as Record<string, unknown>)) {
      const fault = jsonFault(item, `${path}.${key}`);
      if (fault) return fault;
    }
    return undefined;
  }
  return `${path} is no plain JSON`;
}
