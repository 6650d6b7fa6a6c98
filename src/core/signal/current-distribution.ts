/** How often each amplitude stands in a trace: counts in equal bins, whose range the first window sets. */

export interface AmplitudeDistribution {
  low: number;
  high: number;
  counts: Float64Array;
  below: number;
  above: number;
}

const AMPLITUDE_BINS = 512;

/** Twice the range of the first window, and from zero. */
export function distributionOf(samples: Float64Array, count: number): AmplitudeDistribution {
  let low = 0;
  let high = 0;
  for (let k = 0; k < count; k++) {
    const x = samples[k]!;
    if (x < low) low = x;
    if (x > high) high = x;
  }
  const span = high - low || 1;
  return { ...noDistribution(), low: low - 0.5 * span, high: high + span };
}

export function tallyAmplitudes(d: AmplitudeDistribution, samples: Float64Array, count: number): void {
  const scale = AMPLITUDE_BINS / (d.high - d.low);
  for (let k = 0; k < count; k++) {
    const at = (samples[k]! - d.low) * scale;
    if (at < 0) d.below++;
    else if (at >= AMPLITUDE_BINS) d.above++;
    else if (!Number.isNaN(at)) d.counts[at | 0]!++;
  }
}

/** Of a trace without a window. */
export function noDistribution(): AmplitudeDistribution {
  return { low: 0, high: 0, counts: new Float64Array(AMPLITUDE_BINS), below: 0, above: 0 };
}
