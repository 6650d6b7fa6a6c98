/** What a run file says about the spray. JSON-ready: arrays of numbers, null where a value is absent (never NaN). */
import type { IonsOverTime } from './witness/ion-passages.ts';

export interface RunReading {
  format: 'mzML' | 'mzXML';
  ms1_count: number;
  invented: boolean;
  groups: RunGroup[];
  /** Index of the group that carries the verdict. */
  main_group: number;
  events: RunEvent[];
  trustworthy: { start_s: number; end_s: number }[];
  /** Stretches left out of the judgement: asked for, or found from the run (an injection or wash at its ends). */
  masked: MaskedSpan[];
  /** The phases of the method, each judged by itself; absent where neither a set-up nor the file tells them. */
  method?: MethodReading;
  /** Pressure and flow that the file holds beside its scans; absent where it holds none. */
  traces?: SideTrace[];
  /** How steady the spray was, one word with its definition; rests on the main group. */
  stability: StabilityReading;
  /** Whether the peaks of the scans were read too, and what is missing without them. */
  peaks_read: boolean;
  lacks: string[];
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

export type StabilityGrade = 'steady' | 'unsettled' | 'failing' | 'cannot tell';

export interface StabilityReading {
  grade: StabilityGrade;
  /** What the word means, the same for every run. */
  definition: string;
  /** Why this run has it. */
  sentence: string;
}

export interface MaskedSpan {
  start_s: number;
  end_s: number;
  /** 'asked for', or what it looks like. */
  reason: string;
}

export interface MethodPhase {
  name: 'injection and dead time' | 'elution' | 'wash' | 're-equilibration' | 'other flow';
  start_s: number;
  end_s: number;
}

export interface SideTrace {
  name: string;
  /** As the file names it; '' where it does not. */
  unit: string;
  points: number;
  low: number;
  high: number;
  median: number;
  /** Last tenth against the first, as a share of the middle; null where the middle is not above zero. */
  change: number | null;
  /** Thinned to the least and most of each of 500 columns. */
  series: { time_s: number[]; value: number[] };
  sentence: string;
}

export interface MethodReading {
  /** What the phases were found from. */
  from: string;
  phases: (MethodPhase & {
    scans: number;
    /** From scan to scan, as a fraction; null with too few scans. */
    scatter: number | null;
    /** Middle level over that of the elution. */
    level_over_elution: number | null;
    /** Events of confidence 0.5 or more that touch it. */
    events: number;
    sentence: string;
  })[];
}

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
  /** Whether the level already is a rate (ions per time); absent where the file gives no fill times. */
  rate: RateReading | null;
  /** The spray followed through the peaks of the scans; null when they were not read or are too few. */
  spray: SprayReading | null;
  /** Faults this group's scans could just have shown. */
  limits: DetectionLimits | null;
  /** The strongest ions over time, for holding another run against this one; absent where the peaks were not followed. */
  ions?: IonsOverTime;
}

export interface RateReading {
  /** Slope of ln level on ln fill time: near -1 the level is a rate under fill control. */
  slope: number;
  /** Standard error of the slope. */
  slope_error: number;
  says: 'a rate' | 'counts per scan' | 'cannot tell';
  /** Scatter of ln(level x fill time): small where fill control holds the ions per scan. */
  fill_scatter: number;
  level_scatter: number;
  /** Scan-to-scan scatter in the third with the shortest fills over that with the longest; null when fills hardly differ. */
  scatter_short_over_long: number | null;
  sentences: string[];
}

/** Series run over the scans of the group's own series; null where a scan has no value. */
export interface SprayReading {
  /** What `factor` rests on: background ions, or all matched peaks where too few background ions stand. */
  from: 'background ions' | 'matched peaks';
  /** Spray factor about its own slow course; 1 is the usual level. */
  factor: (number | null)[];
  /** Standard error of ln factor (one sigma). */
  error: (number | null)[];
  /** ln of the gain from the scan before, from peaks matched between neighbours, and its standard error. */
  gain: (number | null)[];
  gain_error: (number | null)[];
  matched: number[];
  gain_sd: number | null;
  gain_error_median: number | null;
  matched_median: number;
  /** Correlation of the gains of the low and the high half of the m/z range. */
  halves_correlation: number | null;
  /** Only where the halves agree may a change be called common to all ions. */
  common: 'common' | 'not common' | 'cannot tell';
  /** Background ions found in this run, strongest first. `known` names an ion of that mass, if one is on our list. */
  background: { mz: number; presence: number; share: number; scatter: number; known?: string }[];
  periods: PeriodReading[];
  sentences: string[];
}

export interface PeriodReading {
  start_s: number;
  end_s: number;
  period_s: number;
  /** Half of peak to peak, as a share of the level. */
  amplitude: number;
  /** Runs without a ripple would show as strong a line this often in 24 h. */
  false_per_24h: number;
  /** Other true periods that would look the same at this scan spacing; empty when the scan times exclude them. */
  aliases_s: number[];
  sentence: string;
}

/** Depths are lost shares, amplitudes half of peak to peak; null where the fault could not be looked for. */
export interface DetectionLimits {
  sag_10s: number | null;
  sag_60s: number | null;
  dropout_one_scan: number | null;
  ripple: number | null;
  sentence: string;
}

/**
 * 'level lost': falls and stays down, not at the end. 'ripple': periodic. 'flicker': a stretch of raised scatter.
 * 'drift': a slow change of the background ions. 'step': the spray factor moves and stays, less than a loss. 'burst': it rises and comes back.
 */
export type RunEventKind =
  | 'dropout'
  | 'sag'
  | 'acquisition gap'
  | 'signal lost at the end'
  | 'level lost'
  | 'ripple'
  | 'flicker'
  | 'drift'
  | 'step'
  | 'burst';

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
  /** What could make such a change, likeliest first; words, none of them certain. */
  causes?: string[];
  /** True when the peaks of the scans showed that all ions changed together. */
  common?: boolean;
  /** Found through the peaks of the scans; absent where the level alone showed it. */
  from?: 'background ions' | 'matched peaks';
  /** What pressure or flow in the file did meanwhile, where they moved. */
  beside?: string[];
  /** Of a ripple. */
  period_s?: number;
  sentence: string;
}
