/** What a current trace says, as a document: units in the names, nothing in it depends on who shows it. */
import type { Bandwidth, Decidability } from '../../core/signal/index.ts';
import type { Regime, RegimeProbabilities } from './regimes.ts';

export interface RegimeWindow {
  start_s: number;
  end_s: number;
  level_nA: number;
  /** Robust scatter of the samples. */
  scatter_nA: number;
  min_nA: number;
  max_nA: number;
  probabilities: RegimeProbabilities;
  regime: Regime;
  /** Pulses or line; null where none is seen. */
  frequency_Hz: number | null;
  /** Level over frequency. */
  charge_pC: number | null;
  voltage_V: number | null;
}

export interface RegimeStretch {
  start_s: number;
  end_s: number;
  regime: Regime;
  /** What may be said: 'steady below 12 kHz' where faster pulsation is not excluded. */
  label: string;
  /** Mean of the windows' probabilities. */
  probability: number;
  /** Next likely regime and its mean probability. */
  next: Regime;
  next_probability: number;
  level_nA: number;
  /** Level of the last fifth. */
  end_nA: number;
  /** Level over the expected one; null without a set-up. */
  ratio: number | null;
  /** Drift from the first to the last fifth over the level. */
  drift: number;
  frequency_Hz: number | null;
  charge_pC: number | null;
  /** Several jets: how many, by the square-root step; null where it cannot be told. */
  jets: number | null;
  voltage_V: { low: number; high: number } | null;
  sentence: string;
}

export type CurrentEventKind =
  | 'step up'
  | 'step down'
  | 'creep up'
  | 'creep down'
  | 'spike'
  | 'dropout'
  | 'gap'
  | 'clipped'
  | 'missing values'
  | 'change of regime';

export interface CurrentEvent {
  kind: CurrentEventKind;
  start_s: number;
  end_s: number;
  before_nA: number | null;
  after_nA: number | null;
  sentence: string;
}

export interface PlanComparison {
  expected_nA: { value: number; low: number; high: number };
  calibrated: boolean;
  level_nA: number;
  ratio: number;
  inside: boolean;
  /** What the ratio may mean, likeliest first. */
  meanings: {
    cause: 'as planned' | 'second jet' | 'several jets' | 'corona' | 'leak' | 'pulsation or lost flow';
    probability: number;
    why: string;
  }[];
  pulsation_Hz: { low: number; high: number };
  sentence: string;
}

export interface PressureBeside {
  mean_bar: number;
  low_bar: number;
  high_bar: number;
  moves_with: boolean | null;
  /** The current follows by so much. */
  delay_s: number;
}

export interface CurrentReading {
  kind: 'current trace';
  invented: boolean;
  rate_Hz: number;
  rate_from: string;
  start_s: number;
  end_s: number;
  samples: number;
  missing: number;
  gap_count: number;
  window_s: number;
  /** The trace was read negative and its sign was turned. */
  turned: boolean;
  bandwidth: Bandwidth;
  decidability: Decidability;
  windows: RegimeWindow[];
  timeline: RegimeStretch[];
  events: CurrentEvent[];
  /** Shares of the time, each regime by its probabilities. */
  shares: RegimeProbabilities;
  mains: { base_Hz: 50 | 60; amplitude_nA: number; windows: number } | null;
  /** A slow rhythm (pump, bubbles, wet-back): 0.02 to 20 Hz. */
  rhythm: { frequency_Hz: number; amplitude_nA: number; over_floor: number } | null;
  /** A pressure recorded beside it: middle 96 %, and whether the current moves with it (null: not told); null where there is none. */
  pressure: PressureBeside | null;
  spectrum: { frequency_Hz: number[]; density_nA2_Hz: number[] };
  distribution: { low_nA: number; high_nA: number; counts: number[]; below: number; above: number };
  comparison: PlanComparison | null;
  /** The verdict first. */
  sentences: string[];
  warnings: string[];
  cautions: string[];
  not_known: string[];
}
