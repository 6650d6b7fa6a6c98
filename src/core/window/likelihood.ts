/**
 * P(what was seen | one draw). A regime between two edges: the voltage is read to 3 %, edges are soft to the same, and one
 * observation in twenty is wrong, whatever the truth. 'onset here' and a current are log-normal; an apex height compares with the
 * solved curve. Regime, height and current are misread independently: a regime under the wrong name says nothing against the
 * current read beside it. Beside it the share of that probability in which all is right. All widths are judgement.
 */
import { loadCurrent, tipVoltage } from '../feed/index.ts';
import { normalShare } from '../numeric/normal.ts';
import { NA, UM } from '../units.ts';
import type { WindowDraws } from './draws.ts';
import type { Observation } from './observation.ts';
import type { TipOnset } from './tip-onset.ts';

/** Relative reading error of a voltage and of where an edge was met. */
const VOLTAGE = 0.03;
/** A person finds the onset on a walk in steps. */
const ONSET = 0.05;
const CURRENT = 0.1;
const HEIGHT = 0.15;
const WRONG = 0.05;
/** Likelihood of a wrong regime anywhere: one of about five. */
const ANYTHING = 0.2;
/** A wrong number lies anywhere within so many times either way, on the scale on which a right one peaks at 1. */
const ANYWHERE = 10;
const ANYWHERE_HEIGHT = anywhere(HEIGHT);
const ANYWHERE_CURRENT = anywhere(CURRENT);

export interface Likelihoods {
  p: Float64Array;
  /** Share of p in which the observation is right. */
  right: Float64Array;
}

export function likelihoods(
  window: WindowDraws,
  radii: Float64Array,
  tip: TipOnset,
  inletSide_V: number,
  seen: Observation,
): Likelihoods {
  const height = apexCurve(tip);
  const out = { p: new Float64Array(window.count), right: new Float64Array(window.count) };
  for (let i = 0; i < window.count; i++) {
    const V = tipOf(window, i, inletSide_V, seen);
    out.p[i] = 1;
    out.right[i] = 1;
    take(out, i, regime(window, i, V, seen), ANYTHING);
    if (seen.apex_height_um !== undefined && height) {
      const expected = height(Math.min(1, V / window.onset_V[i]!)) * radii[i]!;
      const right = bell((seen.apex_height_um * UM) / Math.max(expected, 1e-9), HEIGHT);
      take(out, i, right, ANYWHERE_HEIGHT);
    }
    if (seen.current_nA !== undefined) {
      const load = { onset: window.onset_V[i]!, current: window.current_A[i]! };
      const right = bell((seen.current_nA * NA) / Math.max(loadCurrent(load, V), 1e-15), CURRENT);
      take(out, i, right, ANYWHERE_CURRENT);
    }
  }
  return out;
}

/** One thing read of draw i: its likelihood where it is right, and where it is wrong. */
function take(out: Likelihoods, i: number, right: number, wrong: number): void {
  const p = (1 - WRONG) * right + WRONG * wrong;
  out.p[i]! *= p;
  out.right[i]! *= ((1 - WRONG) * right) / p;
}

/** Tip voltage of a draw: as stated, or what the supply leaves when the draw sprays. */
export function tipOf(window: WindowDraws, i: number, inletSide_V: number, seen: Observation): number {
  if (seen.tip_V !== undefined) return seen.tip_V;
  const across = (seen.supply_V ?? 0) - inletSide_V;
  const load = { onset: window.onset_V[i]!, current: window.current_A[i]! };
  return tipVoltage(load, across, window.resistance_ohm[i]!) ?? Math.min(across, load.onset);
}

function regime(window: WindowDraws, i: number, V: number, { seen, direction }: Observation): number {
  const over = (edge: number, width = VOLTAGE) => normalShare(Math.log(V / edge) / width);
  const onset = window.onset_V[i]!;
  const steady = direction === 'down' ? window.steady_down_to_V[i]! : window.steady_from_V[i]!;
  const tilt = window.tilt_from_V[i]!;
  const several = window.several_from_V[i]!;
  const discharge = window.discharge_from_V[i]!;
  switch (seen) {
    case 'no spray':
      return 1 - over(onset);
    case 'dripping':
      // Below the onset a fed meniscus drips, above it it pulsates: both look like drops.
      return 1 - over(steady);
    case 'pulsating':
      return over(onset) * (1 - over(steady));
    case 'onset here':
      return bell(V / onset, ONSET);
    case 'steady':
      return over(steady) * (1 - over(tilt)) * (1 - over(discharge));
    case 'tilted':
      return over(tilt) * (1 - over(several));
    case 'several jets':
      return over(several);
    case 'discharge':
      return Number.isFinite(discharge) ? over(discharge) : 0;
  }
}

/** Height of an even spread over the factor ANYWHERE either way, where a bell of this width has its peak at 1. */
function anywhere(width: number): number {
  return (Math.sqrt(2 * Math.PI) * width) / (2 * Math.log(ANYWHERE));
}

function bell(ratio: number, width: number): number {
  return Math.exp(-0.5 * (Math.log(ratio) / width) ** 2);
}

/** Apex height over the contact radius against V/V_on, on the branch below the turn. */
export function apexCurve({ solved }: TipOnset): ((share: number) => number) | undefined {
  if (solved.kind !== 'onset') return undefined;
  const points = solved.curve.filter(({ H }) => H <= solved.apexHeight);
  return (share) => {
    const V = share * solved.V_star;
    for (let k = 1; k < points.length; k++) {
      const [a, b] = [points[k - 1]!, points[k]!];
      if (V <= b.V) return a.H + ((b.H - a.H) * Math.max(0, V - a.V)) / Math.max(b.V - a.V, 1e-12);
    }
    return solved.apexHeight;
  };
}
