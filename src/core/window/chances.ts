/** Probability of each state of the spray over the tip's voltage, going up: shares of the draws. At each voltage they add to 1. */
import type { WindowDraws } from './draws.ts';

export const STATES = ['below_onset', 'pulsating', 'steady', 'tilted', 'several_jets', 'discharge'] as const;
export type State = (typeof STATES)[number];
export type WindowChances = { voltage_V: number[] } & Record<State, number[]>;

export function windowChances(draws: WindowDraws, voltages: readonly number[]): WindowChances {
  const empty = () => voltages.map(() => 0);
  const chances: WindowChances = {
    voltage_V: [...voltages],
    below_onset: empty(),
    pulsating: empty(),
    steady: empty(),
    tilted: empty(),
    several_jets: empty(),
    discharge: empty(),
  };
  for (const [k, V] of voltages.entries())
    for (let i = 0; i < draws.count; i++) chances[stateOf(draws, i, V)][k]! += 1 / draws.count;
  return chances;
}

/** A discharge hides everything else. */
export function stateOf(draws: WindowDraws, i: number, V: number): State {
  if (V >= draws.discharge_from_V[i]!) return 'discharge';
  if (V < draws.onset_V[i]!) return 'below_onset';
  if (V < draws.steady_from_V[i]!) return 'pulsating';
  if (V < draws.tilt_from_V[i]!) return 'steady';
  return V < draws.several_from_V[i]! ? 'tilted' : 'several_jets';
}

/**
 * The voltage at which most draws are steady, and their share; ties go to the middle of their stretch. A discharge is worse
 * than a lost cone: voltages at which more than DISCHARGE_SHARE of the draws discharge are left out.
 */
export function bestVoltage({ voltage_V, steady, discharge }: WindowChances): {
  voltage_V: number;
  probability: number;
} {
  const allowed = voltage_V.flatMap((_, k) => (discharge[k]! <= DISCHARGE_SHARE ? [k] : []));
  const among = allowed.length > 0 ? allowed : [0];
  const top = Math.max(...among.map((k) => steady[k]!));
  const best = among.filter((k) => steady[k]! > top - TIE);
  return { voltage_V: voltage_V[best[Math.floor(best.length / 2)]!]!, probability: top };
}
/** Judgement; the gradient's ceiling stands at the same share. */
export const DISCHARGE_SHARE = 0.1;
const TIE = 1e-9;

/** Voltages on which the window is shown: from well below the least onset to past the several-jets edge. */
export function voltageGrid(draws: WindowDraws, points = 121): number[] {
  const onset = Float64Array.from(draws.onset_V).sort();
  const several = Float64Array.from(draws.several_from_V).sort();
  const low = 0.8 * onset[Math.floor(draws.count * 0.02)]!;
  const high = 1.1 * several[Math.floor(draws.count * 0.9)]!;
  return Array.from({ length: points }, (_, k) => low + ((high - low) * k) / (points - 1));
}
