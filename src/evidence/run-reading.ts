/** What a run file says about the spray. JSON-ready: arrays of numbers, null where a value is absent (never NaN). */
export interface RunReading {
  format: 'mzML' | 'mzXML';
  ms1_count: number;
  invented: boolean;
  groups: RunGroup[];
  /** Index of the group that carries the verdict. */
  main_group: number;
  events: RunEvent[];
  trustworthy: { start_s: number; end_s: number }[];
  /** Share of the main group's span (without acquisition gaps) that lies in trustworthy intervals, 0..1. */
  trustworthy_share: number;
  verdict: { grade: VerdictGrade; sentence: string; reasons: string[] };
  /** What this file cannot decide, each with the cheapest measurement that would. */
  undecided: string[];
  warnings: string[];
  broken?: { byte: number; reason: string };
}

/** keep: use all; keep these minutes: use the trustworthy intervals; repeat: too little is left; cannot tell: too short or too thin to judge. */
export type VerdictGrade = 'keep' | 'keep these minutes' | 'repeat' | 'cannot tell';

export interface RunGroup {
  /** Plain label, for example 'positive, m/z 400–1600'. */
  label: string;
  polarity: 'positive' | 'negative' | 'unknown';
  ms1_count: number;
  start_s: number;
  end_s: number;
  interval_s: number;
  /** 'stated' TIC attribute or 'summed' stored intensities. */
  level_from: 'stated' | 'summed';
  /** Median of summed / stated where both exist. */
  summed_over_stated: number | null;
  /** Robust scatter of the level after removing the slow course, as a fraction. Elution counts as scatter here. */
  scatter: number | null;
  /** Scatter from scan to scan (each scan against its two neighbours), as a fraction: elution mostly cancels. */
  scan_scatter: number | null;
  injection_time: { median_ms: number; max_ms: number; clamped_share: number } | null;
  series: { time_s: number[]; level: number[]; injection_ms: (number | null)[] };
}

export type RunEventKind = 'dropout' | 'sag' | 'acquisition gap' | 'signal lost at the end';

export interface RunEvent {
  kind: RunEventKind;
  group: number;
  start_s: number;
  end_s: number;
  /** Lost share of the level, 0..1; null for an acquisition gap. */
  depth: number | null;
  /** 0..1, with `confidence_basis` saying what it rests on. */
  confidence: number;
  confidence_basis: string;
  sentence: string;
}
