/**
 * What a trace can show at all: the lower of the meter's analogue bandwidth and half the sampling rate. The bandwidth is given,
 * or follows from resistor and capacitance, f = 1/(2π R C) (one pole), or is read off the roll-off of the noise: a plateau that
 * falls as 1/f² is fitted by S = S0/(1 + (f/fc)²) + S1. Approximation: the noise enters before the meter's pole; noise of the
 * recorder behind it is flat and hides the roll-off (S1), then the answer is none. 1/f wander of a spray has no plateau: none.
 * Worked number: 4.7 MΩ and 10 pF: 3.39 kHz; 100 pF: 339 Hz.
 */
export type BandwidthFrom = 'given' | 'sidecar' | 'resistor and capacitance' | 'noise roll-off' | 'unknown';

export interface Bandwidth {
  /** Frequency at which a sine is down to 0.71; null where unknown. */
  value_Hz: number | null;
  low_Hz: number | null;
  high_Hz: number | null;
  from: BandwidthFrom;
  sentence: string;
}

export interface Decidability {
  /** Faster than this nothing can be said. Null where the bandwidth is unknown: then half the rate is only an upper end. */
  limit_Hz: number | null;
  /** What can be claimed at most: the limit, or where the bandwidth is unknown the frequency up to which the trace has been read. */
  below_Hz: number;
  half_rate_Hz: number;
  /** Pulsation to be expected. */
  pulsation_Hz: { low: number; high: number };
  /** True where steady can be told from pulsating. */
  decides: boolean;
  /** What would decide: samples per second and meter bandwidth. */
  needs: { rate_Hz: number; bandwidth_Hz: number };
  sentence: string;
}

export function onePole(resistance: number, capacitance: number): number {
  return 1 / (2 * Math.PI * resistance * capacitance);
}

/** A wave is told from its harmonics and from a folded one with four samples to its period (judgement). */
const SAMPLES_PER_PERIOD = 4;

export function decidability(
  rate_Hz: number,
  bandwidth: Bandwidth,
  pulsation_Hz: { low: number; high: number },
): Decidability {
  const half_rate_Hz = rate_Hz / 2;
  const known = bandwidth.low_Hz ?? bandwidth.value_Hz;
  const limit_Hz = known === null ? null : Math.min(known, half_rate_Hz);
  const below_Hz = limit_Hz ?? half_rate_Hz;
  const decides = limit_Hz !== null && limit_Hz >= pulsation_Hz.high;
  const needs = { rate_Hz: SAMPLES_PER_PERIOD * pulsation_Hz.high, bandwidth_Hz: pulsation_Hz.high };
  const range = `${frequencyText(pulsation_Hz.low)} to ${frequencyText(pulsation_Hz.high)}`;
  const wants = `${rateText(needs.rate_Hz)} through a meter of ${frequencyText(needs.bandwidth_Hz)} would decide`;
  const limiting = limit_Hz !== null && limit_Hz < half_rate_Hz ? 'the meter' : 'the sampling rate';
  const sentence = decides
    ? `Pulsation is looked for at ${range}; rate and meter reach ${frequencyText(limit_Hz)}, so steady can be told from pulsating.`
    : limit_Hz === null
      ? `The meter's bandwidth is unknown: a steady trace proves nothing above it. Pulsation is to be expected at ${range}; ${wants}.`
      : `The trace ends at ${frequencyText(limit_Hz)} (${limiting}); pulsation is to be expected at ${range}; ${wants}.`;
  return { limit_Hz, below_Hz, half_rate_Hz, pulsation_Hz, decides, needs, sentence };
}

export function givenBandwidth(value_Hz: number, from: 'given' | 'sidecar'): Bandwidth {
  return {
    value_Hz,
    low_Hz: value_Hz,
    high_Hz: value_Hz,
    from,
    sentence: `Meter bandwidth ${frequencyText(value_Hz)} (${from === 'given' ? 'given' : 'from the sidecar'}).`,
  };
}

export function bandwidthOfResistor(resistor_MOhm: number, capacitance_pF: number): Bandwidth {
  const value_Hz = onePole(resistor_MOhm * 1e6, capacitance_pF * 1e-12);
  return {
    value_Hz,
    low_Hz: value_Hz,
    high_Hz: value_Hz,
    from: 'resistor and capacitance',
    sentence: `Meter bandwidth ${frequencyText(value_Hz)} from ${Number(resistor_MOhm.toPrecision(4))} MΩ and ${capacitance_pF} pF (one pole).`,
  };
}

export const UNKNOWN_BANDWIDTH: Bandwidth = {
  value_Hz: null,
  low_Hz: null,
  high_Hz: null,
  from: 'unknown',
  sentence: 'Meter bandwidth unknown: give it, or the resistor with its capacitance.',
};

/** The fit must fall at least so far from the plateau, hold to this scatter, and leave a plateau of an octave or more. */
const LEAST_FALL = 6;
const LARGEST_SCATTER = 0.35;
const BAND = 1.1;
const LEAST_BANDS = 12;
/** Bands on the plateau, and bands on the slope. */
const LEAST_SIDE = 4;
/** The pole is known to this factor from a noise spectrum (judgement, from made traces). */
const FACTOR = 1.5;

/** From the density of the calm part of a trace in rising frequencies; undefined where no roll-off of one pole is seen. */
export function bandwidthOfNoise(
  frequency: ArrayLike<number>,
  density: ArrayLike<number>,
): Bandwidth | undefined {
  const { f, s } = banded(frequency, density);
  if (f.length < LEAST_BANDS) return undefined;
  let best: { fc: number; floor: number; scatter: number } | undefined;
  for (let fc = f[2]! * 2; fc < f.at(-1)! / 2; fc *= 1.06) {
    for (const floor of [0, 0.001, 0.003, 0.01, 0.03, 0.1]) {
      const model = f.map((x) => Math.log(1 / (1 + (x / fc) ** 2) + floor));
      const offsets = s.map((y, k) => y - model[k]!).sort((a, b) => a - b);
      const middle = offsets[offsets.length >> 1]!;
      const away = offsets.map((y) => Math.abs(y - middle)).sort((a, b) => a - b);
      const scatter = away[Math.floor(0.9 * (away.length - 1))]!;
      if (!best || scatter < best.scatter) best = { fc, floor, scatter };
    }
  }
  if (!best) return undefined;
  const fall = 1 / (1 / (1 + (f.at(-1)! / best.fc) ** 2) + best.floor);
  const plateau = f.filter((x) => x < best.fc).length;
  const slope = f.filter((x) => x > 1.5 * best.fc).length;
  if (best.scatter > LARGEST_SCATTER || fall < LEAST_FALL || plateau < LEAST_SIDE || slope < LEAST_SIDE)
    return undefined;
  return {
    value_Hz: best.fc,
    low_Hz: best.fc / FACTOR,
    high_Hz: best.fc * FACTOR,
    from: 'noise roll-off',
    sentence: `Meter bandwidth about ${frequencyText(best.fc)} (${frequencyText(best.fc / FACTOR)} to ${frequencyText(best.fc * FACTOR)}), read off the roll-off of the noise.`,
  };
}

/** Means of ln density over bands a seventh of an octave wide or more: each octave then weighs the same. */
function banded(frequency: ArrayLike<number>, density: ArrayLike<number>): { f: number[]; s: number[] } {
  const f: number[] = [];
  const s: number[] = [];
  let sum = 0;
  let middle = 0;
  let count = 0;
  let edge = 0;
  const close = () => {
    if (count === 0) return;
    f.push(Math.exp(middle / count));
    s.push(sum / count);
    sum = 0;
    middle = 0;
    count = 0;
  };
  for (let k = 0; k < frequency.length; k++) {
    if (!(frequency[k]! > 0 && density[k]! > 0)) continue;
    if (frequency[k]! > edge) {
      close();
      edge = frequency[k]! * BAND;
    }
    sum += Math.log(density[k]!);
    middle += Math.log(frequency[k]!);
    count++;
  }
  close();
  return { f, s };
}

export function frequencyText(f: number): string {
  if (f >= 999_500) return `${Number((f / 1e6).toPrecision(3))} MHz`;
  if (f >= 999.5) return `${Number((f / 1e3).toPrecision(3))} kHz`;
  return `${Number(f.toPrecision(3))} Hz`;
}

export function rateText(rate: number): string {
  if (rate >= 999_500) return `${Number((rate / 1e6).toPrecision(3))} MS/s`;
  if (rate >= 999.5) return `${Number((rate / 1e3).toPrecision(3))} kS/s`;
  return `${Number(rate.toPrecision(3))} S/s`;
}
