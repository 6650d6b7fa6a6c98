/** Regimes in words. 'Steady' is only said as far as meter and rate can tell it. */
import { type Decidability, frequencyText } from '../../core/signal/index.ts';
import type { Regime } from './regimes.ts';

const NAMES: Record<Exclude<Regime, 'steady'>, string> = {
  'no spray': 'no spray',
  'leak only': 'leak only',
  dripping: 'dripping',
  pulsating: 'pulsating',
  'intermittent bursts': 'intermittent bursts',
  'unsteady jet': 'tilted or unsteady jet',
  'several jets': 'several jets',
  discharge: 'corona or arc',
  'pick-up': 'mains or pump pick-up',
};

export function regimeLabel(regime: Regime, decides: Decidability): string {
  if (regime !== 'steady') return NAMES[regime];
  if (decides.decides) return 'steady cone-jet';
  const below = frequencyText(decides.below_Hz);
  return decides.limit_Hz === null
    ? `steady below ${below} at most; faster pulsation not excluded`
    : `steady below ${below}; faster pulsation not excluded`;
}

/** Short, for a column or a picture. */
export function regimeName(regime: Regime): string {
  return regime === 'steady' ? 'steady (as far as seen)' : NAMES[regime];
}

export function currentText(nA: number): string {
  const size = Math.abs(nA);
  if (size >= 999.5e3) return `${Number((nA / 1e6).toPrecision(3))} mA`;
  if (size >= 999.5) return `${Number((nA / 1000).toPrecision(3))} µA`;
  if (size >= 0.0995 || size === 0) return `${Number(nA.toPrecision(3))} nA`;
  return `${Number((nA * 1000).toPrecision(2))} pA`;
}

/** A share in percent, to two digits. */
export function shareText(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`;
}

export function chargeText(pC: number): string {
  return pC >= 999.5 ? `${Number((pC / 1000).toPrecision(2))} nC` : `${Number(pC.toPrecision(2))} pC`;
}
