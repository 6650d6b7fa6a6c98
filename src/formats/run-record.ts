/**
 * What a run file holds for following a spray: one row for each MS1 spectrum, in file order, columns as typed arrays.
 * The readers return this for mzML and mzXML alike and never throw for a broken file: what stood before the break is kept.
 */
export interface RunRecord {
  format: 'mzML' | 'mzXML';
  /** Rows of MS1 spectra. All arrays below have this length. */
  ms1_count: number;
  /** Scan start time [s]; NaN where the file gives none (a warning counts them). */
  time_s: Float64Array;
  /** Total ion current as the file states it; NaN where absent. */
  tic_stated: Float64Array;
  /** Sum of the stored intensities, decoded; NaN where the array could not be decoded. */
  tic_summed: Float64Array;
  base_peak: Float64Array;
  peak_count: Uint32Array;
  /** Ion injection time [ms]; NaN where absent. */
  injection_ms: Float64Array;
  /** +1, -1, 0 unknown. */
  polarity: Int8Array;
  /** Declared scan window [m/z]; NaN where absent. */
  window_low: Float64Array;
  window_high: Float64Array;
  /** Index into `analysers`. */
  analyser: Uint16Array;
  analysers: string[];
  /** 1 profile, 0 centroid. */
  profile: Uint8Array;
  /** All spectra met, by MS level (index = level; 0 = level missing). */
  spectra_by_level: number[];
  /** Pressure or flow chromatograms and the like, read as extra traces. */
  traces: { name: string; unit: string; time_s: Float64Array; value: Float64Array }[];
  /** True when a userParam marks the run as invented. */
  invented: boolean;
  /** Plain sentences with counts; nothing here names a person, path or instrument. */
  warnings: string[];
  /** Where and why reading stopped early; absent for a whole file. */
  broken?: { byte: number; reason: string };
}

/** Decompresses one zlib stream; must throw when the output would exceed `maxBytes`. */
export type Inflate = (bytes: Uint8Array, maxBytes: number) => Uint8Array;
