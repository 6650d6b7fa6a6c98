/** From the statistics of a trace to its reading: regimes, timeline, events, what can be decided, comparison with the plan. */

import { median } from '../../core/numeric/robust.ts';
import {
  type Bandwidth,
  bandwidthOfNoise,
  type CurrentStatistics,
  type CurrentWindow,
  decidability,
  UNKNOWN_BANDWIDTH,
  USUAL_PULSATION,
} from '../../core/signal/index.ts';
import { recordingWarnings, unitWarnings } from './checks.ts';
import { comparePlan } from './compare-plan.ts';
import { withNeighbours } from './context.ts';
import type { CurrentReading, RegimeStretch, RegimeWindow } from './current-reading.ts';
import { cautionsOf, notKnown, sentencesOf } from './current-sentences.ts';
import { dropTrains } from './drop-trains.ts';
import { eventsOf } from './events.ts';
import { hopTrains } from './hop-trains.ts';
import { levelChanges } from './level-changes.ts';
import { pressureOf } from './pressure-beside.ts';
import {
  byRegime,
  type ExpectedCurrent,
  likeliest,
  REGIMES,
  type RegimeProbabilities,
  regimeOf,
} from './regimes.ts';
import { rhythmOf } from './rhythm.ts';
import { slowLevel, wanderIn } from './slow-level.ts';
import { smoothed } from './smoothing.ts';
import { levelSteps } from './steps.ts';
import { timelineOf } from './timeline.ts';
import { windowAt, windowEnd } from './window-ends.ts';

export interface ReadCurrentOptions {
  /** Given or computed; where absent it is looked for in the noise. */
  bandwidth?: Bandwidth | undefined;
  expected?: ExpectedCurrent | undefined;
  /** Where the set-up would pulsate [Hz]; absent: emitters of 10 to 30 µm. */
  pulsation_Hz?: { low: number; high: number } | undefined;
  /** Current with high voltage on and the flow off. */
  flow_off_nA?: number | undefined;
  /** As the file states it, for the words of a doubt. */
  unit?: string | undefined;
  rate_from?: string | undefined;
  invented?: boolean | undefined;
  turned?: boolean | undefined;
  /** Warnings of the reader of the file. */
  warnings?: readonly string[] | undefined;
}

const NA = 1e-9;
/** The rhythm must make this much of the level, and of the slow variance, to be named. */
const RHYTHM_DEPTH = 0.02;
const RHYTHM_SHARE = 0.4;

export function readCurrent(stats: CurrentStatistics, options: ReadCurrentOptions = {}): CurrentReading {
  const bandwidth = options.bandwidth ?? bandwidthOfCalm(stats, options.expected) ?? UNKNOWN_BANDWIDTH;
  const pulsation_Hz = options.pulsation_Hz ?? USUAL_PULSATION;
  const decides = decidability(stats.rate_Hz, bandwidth, pulsation_Hz);
  const { expected } = options;
  const context = { expected, bandwidth_Hz: bandwidth.value_Hz, step_A: stats.extremes.step };
  const slow = slowLevel(stats.slow, stats.windows, stats.rate_Hz, stats.extremes.step);
  const seen = stats.windows.map((w, i) => ({
    ...w,
    slow_sd: wanderIn(slow, w, stats.rate_Hz) ?? w.slow_sd,
    // A cut-off window is too short for mains: it is heard next to it.
    mains: w.mains ?? (w.samples < stats.windows[0]!.samples ? (stats.windows[i - 1]?.mains ?? null) : null),
  }));
  const alone = seen.map((w) => regimeOf(w, context));
  const steps = levelSteps(
    stats.windows,
    stats.slow,
    alone.map((p) => p.steady + p['several jets'] + p['unsteady jet'] + p['leak only'] > 0.5),
  );
  const level_A = median(stats.windows.map((w) => w.mean));
  const found = stats.windows.length > 0 ? rhythmOf(slow) : null;
  const changes = levelChanges(slow).filter((c) => !burningAt(stats, alone, c.at_s));
  const longer = withNeighbours(seen, alone, {
    drops: dropTrains(slow, stats),
    hops: hopTrains(changes),
    changes,
    rhythm: found,
    level_A,
    rate_Hz: stats.rate_Hz,
  });
  const probabilities = smoothed(
    stats.windows.map((w) => ({
      start_s: w.start_s,
      end_s: windowEnd(w, stats.rate_Hz),
      level_A: w.mean,
    })),
    longer,
  );
  const rhythm =
    found && found.amplitude_A > RHYTHM_DEPTH * Math.max(level_A, 2 * NA) && found.share > RHYTHM_SHARE
      ? found
      : null;
  const windows = stats.windows.map((w, i) => windowOf(w, stats.rate_Hz, probabilities[i]!));
  const timeline = timelineOf(windows, decides, expected, steps);
  const shares = sharesOf(windows);
  const events = eventsOf(stats, steps, timeline, stats.gaps);
  const longest = timeline
    .filter((s) => s.regime !== 'no spray' && s.regime !== 'leak only')
    .reduce<RegimeStretch | undefined>(
      (a, b) => (a && a.end_s - a.start_s > b.end_s - b.start_s ? a : b),
      undefined,
    );
  const comparison =
    expected && longest
      ? comparePlan({
          expected,
          pulsation_Hz,
          // Where the level drifts, where it stands now is what counts.
          level_A: longest.end_nA * NA,
          drift: longest.drift,
          steps,
          shares,
          flow_off_A: options.flow_off_nA === undefined ? undefined : options.flow_off_nA * NA,
        })
      : null;
  const mains = mainsOf(stats.windows, level_A);
  const reading: CurrentReading = {
    kind: 'current trace',
    invented: options.invented ?? false,
    rate_Hz: stats.rate_Hz,
    rate_from: options.rate_from ?? 'given',
    start_s: stats.start_s,
    end_s: stats.end_s,
    samples: stats.samples,
    missing: stats.missing,
    gap_count: stats.gaps.length,
    window_s: stats.window_s,
    turned: options.turned ?? false,
    bandwidth,
    decidability: decides,
    windows,
    timeline,
    events,
    shares,
    mains,
    rhythm: rhythm && {
      frequency_Hz: rhythm.frequency_Hz,
      amplitude_nA: rhythm.amplitude_A / NA,
      over_floor: rhythm.over_floor,
    },
    pressure: pressureOf(stats.pressure),
    spectrum: spectrumOf(stats),
    distribution: {
      low_nA: stats.distribution.low / NA,
      high_nA: stats.distribution.high / NA,
      counts: [...stats.distribution.counts],
      below: stats.distribution.below,
      above: stats.distribution.above,
    },
    comparison,
    sentences: [],
    warnings: [
      ...(options.turned
        ? ['The current reads negative throughout: its sign was turned (leads reversed, or negative mode).']
        : []),
      ...recordingWarnings(stats, expected, options.unit ?? 'A'),
      ...(options.warnings ?? []),
    ],
    cautions: cautionsOf(shares),
    not_known: notKnown(decides.decides, expected),
  };
  reading.sentences = sentencesOf(reading, rhythm, steps);
  if (unitWarnings(stats, expected, options.unit ?? 'A').length > 0)
    reading.sentences.unshift('The unit looks wrong: see the warnings before believing anything below.');
  return reading;
}

/** Spikes of a discharge lift the pieces they fall in: no change of the level. */
function burningAt(
  { windows, rate_Hz }: CurrentStatistics,
  alone: readonly RegimeProbabilities[],
  at_s: number,
): boolean {
  const i = windowAt(windows, rate_Hz, at_s);
  return i < windows.length && alone[i]!.discharge > 0.5;
}

function windowOf(w: CurrentWindow, rate_Hz: number, probabilities: RegimeProbabilities): RegimeWindow {
  const regime = likeliest(probabilities);
  const periodic = regime === 'pulsating' || regime === 'intermittent bursts' || regime === 'dripping';
  const train = w.pulses && w.pulses.count > 3 ? w.pulses.rate_Hz : null;
  const line = w.comb?.frequency_Hz ?? null;
  const frequency_Hz = !periodic
    ? null
    : regime === 'dripping'
      ? (w.pulses?.rate_Hz ?? null)
      : regime === 'intermittent bursts'
        ? (line ?? train)
        : (line ?? train);
  const charge =
    frequency_Hz === null || frequency_Hz === 0
      ? null
      : regime === 'intermittent bursts' || regime === 'dripping'
        ? (w.pulses?.area ?? null)
        : w.mean / frequency_Hz;
  return {
    start_s: w.start_s,
    end_s: windowEnd(w, rate_Hz),
    level_nA: w.mean / NA,
    scatter_nA: w.robust_sd / NA,
    min_nA: w.min / NA,
    max_nA: w.max / NA,
    probabilities,
    regime,
    frequency_Hz,
    charge_pC: charge === null ? null : charge * 1e12,
    voltage_V: w.voltage,
  };
}

function sharesOf(windows: readonly RegimeWindow[]): RegimeProbabilities {
  const shares = byRegime(() => 0);
  const total = windows.reduce((s, w) => s + w.end_s - w.start_s, 0);
  for (const w of windows)
    for (const name of REGIMES) shares[name] += (w.probabilities[name] * (w.end_s - w.start_s)) / total;
  return shares;
}

/** The middle of the spectra of the calm windows: the wander of an unsteady jet would look like a slow meter. */
function bandwidthOfCalm(
  stats: CurrentStatistics,
  expected: ExpectedCurrent | undefined,
): Bandwidth | undefined {
  const { frequency_Hz, rows } = stats.spectrogram;
  const bands = frequency_Hz.length;
  const calm = stats.windows.flatMap((w, i) => {
    const p = regimeOf(w, { expected, bandwidth_Hz: null, step_A: stats.extremes.step });
    return p.steady + p['no spray'] + p['leak only'] > 0.8 ? [i] : [];
  });
  if (calm.length === 0 || bands === 0) return undefined;
  const stride = Math.max(1, Math.floor(calm.length / 400));
  const density = new Float64Array(bands);
  for (let b = 0; b < bands; b++) {
    const column: number[] = [];
    for (let k = 0; k < calm.length; k += stride) column.push(rows[calm[k]! * bands + b]!);
    density[b] = Math.exp(median(column));
  }
  return bandwidthOfNoise(frequency_Hz, density);
}

function mainsOf(windows: readonly CurrentWindow[], level_A: number): CurrentReading['mains'] {
  for (const base_Hz of [50, 60] as const) {
    const own = windows.filter(
      (w) =>
        w.mains?.base_Hz === base_Hz &&
        w.mains.share > 0.02 &&
        w.mains.amplitude > 0.003 * Math.max(level_A, 10 * NA) &&
        w.skew < 2,
    );
    if (own.length < Math.max(2, 0.3 * windows.length)) continue;
    return { base_Hz, amplitude_nA: median(own.map((w) => w.mains!.amplitude)) / NA, windows: own.length };
  }
  return null;
}

function spectrumOf(stats: CurrentStatistics): CurrentReading['spectrum'] {
  const { density, step_Hz } = stats.spectrum;
  return {
    frequency_Hz: Array.from(density, (_, k) => k * step_Hz),
    density_nA2_Hz: Array.from(density, (d) => d * 1e18),
  };
}
