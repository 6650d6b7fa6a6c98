/**
 * The modelled current meter: one pole, white noise in front of it, a converter with a full scale and steps. Real amplifiers ring,
 * drift and pick up more than this one.
 */
export interface Meter {
  /** −3 dB [Hz]. */
  bandwidth_Hz: number;
  rate_Hz: number;
  /** Root mean square at the meter's own bandwidth [A]. */
  noise_A: number;
  fullScale_A: number;
  bits: number;
}

export type MeterName = 'wide' | 'usual' | 'resistor';

/** The resistor has 4.7 MΩ with 30 pF beside it. Noise: judgement for the amplifiers; the resistor's Johnson noise drowns in the steps of its 12-bit converter (computed). */
export const METERS: Record<MeterName, Meter & { words: string }> = {
  wide: {
    words: 'fast: 400 kHz, 1 MS/s',
    bandwidth_Hz: 400_000,
    rate_Hz: 1_000_000,
    noise_A: 2e-9,
    fullScale_A: 2e-6,
    bits: 16,
  },
  usual: {
    words: 'usual: 20 kHz, 100 kS/s',
    bandwidth_Hz: 20_000,
    rate_Hz: 100_000,
    noise_A: 4e-10,
    fullScale_A: 2e-6,
    bits: 16,
  },
  resistor: {
    words: 'resistor, 12 bits: 1.1 kHz, 10 kS/s',
    bandwidth_Hz: 1 / (2 * Math.PI * 4.7e6 * 30e-12),
    rate_Hz: 10_000,
    noise_A: 1e-11,
    fullScale_A: 1e-6,
    bits: 12,
  },
};

/** One step of the converter [A]. */
export function meterStep(meter: Meter): number {
  return (2 * meter.fullScale_A) / 2 ** meter.bits;
}
