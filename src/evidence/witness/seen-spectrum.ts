/** One MS1 spectrum as a reader of run files hands it on; the arrays are views valid during the call only. */
export interface SeenSpectrum {
  /** Row of the record. */
  row: number;
  mz: Float64Array;
  intensity: Float64Array;
  profile: boolean;
  time_s: number;
  /** NaN where absent, as are the windows. */
  injection_ms: number;
  /** Index or name of the analyser: only told apart, never interpreted. */
  analyser: number | string;
  polarity: number;
  window_low: number;
  window_high: number;
}
