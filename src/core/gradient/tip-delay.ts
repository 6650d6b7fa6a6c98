/**
 * Delay and smearing of the whole way from pump to tip: first moments and variances of the pieces add (independent
 * linear stages). The flow is taken as constant and known to 5 %, the volumes as exact.
 */
import type { GradientVolume } from '../setup.ts';
import { MM, NL_MIN, UM } from '../units.ts';
import type { DelayPiece, TipDelay } from './gradient-plan.ts';
import { type Arrival, bedArrival, mixerArrival, plugArrival, tubeArrival } from './smearing.ts';

/** Common practice, no source: a nanoflow pump's delivered flow without calibration. */
const FLOW_ACCURACY = 0.05;
const NL = 1e-12; // [m3]
const MINUTE = 60; // [s]

export function tipDelay(volumes: readonly GradientVolume[], flow_nL_min: number): TipDelay {
  const pieces = volumes.map((piece) => delayPiece(piece, flow_nL_min));
  const delay = pieces.reduce((sum, piece) => sum + piece.delay_min, 0);
  const spread = (of: (piece: DelayPiece) => number) => Math.hypot(...pieces.map(of));
  return {
    delay_min: delay,
    delay_low_min: delay / (1 + FLOW_ACCURACY),
    delay_high_min: delay / (1 - FLOW_ACCURACY),
    smearing_min: spread((piece) => piece.smearing_min),
    smearing_low_min: spread((piece) => piece.smearing_low_min),
    smearing_high_min: spread((piece) => piece.smearing_high_min),
    pieces,
  };
}

/** Liquid volume [nL]: as stated, else bore, length and open share. */
export function volumeOf(piece: GradientVolume): number {
  if (piece.volume_nL !== undefined) return piece.volume_nL;
  const { bore_um = 0, length_mm = 0, open_fraction = 1 } = piece;
  return (Math.PI * (bore_um * UM * 0.5) ** 2 * length_mm * MM * open_fraction) / NL;
}

function delayPiece(piece: GradientVolume, flow_nL_min: number): DelayPiece {
  const volume_nL = volumeOf(piece);
  const arrival = arrivalOf(piece, volume_nL * NL, flow_nL_min * NL_MIN);
  return {
    name: piece.name,
    kind: piece.kind,
    volume_nL,
    delay_min: arrival.mean / MINUTE,
    smearing_min: arrival.sd.middle / MINUTE,
    smearing_low_min: arrival.sd.low / MINUTE,
    smearing_high_min: arrival.sd.high / MINUTE,
    law: arrival.law,
    valid: arrival.valid,
    ...(arrival.note === undefined ? {} : { note: arrival.note }),
  };
}

function arrivalOf(piece: GradientVolume, volume: number, flow: number): Arrival {
  const { kind, bore_um, length_mm, particle_um } = piece;
  if (kind === 'mixer') return mixerArrival(volume, flow);
  if (kind === 'packed bed')
    return bedArrival(
      volume,
      flow,
      length_mm === undefined ? undefined : length_mm * MM,
      particle_um === undefined ? undefined : particle_um * UM,
    );
  if (bore_um === undefined || length_mm === undefined) return plugArrival(volume, flow);
  return tubeArrival(volume, bore_um * UM, length_mm * MM, flow);
}
