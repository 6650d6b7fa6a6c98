/**
 * The window of every draw at one condition: onset from the meniscus, edges as ratios to it, corona and spark, current,
 * minimum flow and the resistance of the liquid column. All voltages are the tip's own, against the inlet.
 */
import { VACUUM_PERMITTIVITY } from '../constants.ts';
import { type Estimate, MEASURED } from '../estimate.ts';
import { type LiquidPiece, liquidResistance } from '../feed/index.ts';
import { normalShare } from '../numeric/normal.ts';
import { DEG, MN_M, NL_MIN } from '../units.ts';
import { type Belief, between, contactRadiusOf, EIGHTY, factorOf, pressureOf, tailFactor } from './belief.ts';
import { inceptionTension } from './corona.ts';
import type { WindowDraws } from './draws.ts';
import { shapeFactorOfTaper } from './onset-closed.ts';
import * as prior from './priors.ts';
import { sparkVoltage } from './spark.ts';
import { type TipOnset, unitOnset } from './tip-onset.ts';
import type { TipGeometry } from './tip-solves.ts';

export interface WindowCondition {
  tip: TipOnset;
  liquid: {
    surface_tension_mN_m: Estimate;
    conductivity_S_m: Estimate;
    density_kg_m3: Estimate;
    permittivity_relative: Estimate;
  };
  flow_nL_min: Estimate;
  polarity: 'positive' | 'negative';
  /** What the feed sets at the meniscus [γ/a]. */
  pressure: number;
  /** The tip looks past the inlet: steep angle or an offset beyond the distance. */
  oblique: boolean;
  /** Liquid between contact and tip. */
  column: readonly LiquidPiece[];
}

export function windowDraws({ draws, count }: Belief, condition: WindowCondition): WindowDraws {
  const { tip, liquid, polarity } = condition;
  const window: WindowDraws = {
    count,
    onset_V: new Float64Array(count),
    steady_from_V: new Float64Array(count),
    steady_down_to_V: new Float64Array(count),
    tilt_from_V: new Float64Array(count),
    several_from_V: new Float64Array(count),
    discharge_from_V: new Float64Array(count),
    current_A: new Float64Array(count),
    minimum_flow_m3_s: new Float64Array(count),
    resistance_ohm: new Float64Array(count),
  };
  const corona = coronaTable(tip);
  const spark = sparkVoltage(tip.geometry.distance);
  const coupling = Math.log(condition.oblique ? prior.COUPLING.oblique : prior.COUPLING.plain) / EIGHTY;
  const geometry = Math.log(prior.GEOMETRY) / EIGHTY;
  const taper = taperFactor(tip.geometry);
  const column = liquidResistance(1, condition.column);
  const density = liquid.density_kg_m3.value;
  const permittivity = liquid.permittivity_relative.value;
  for (let i = 0; i < count; i++) {
    const z = (name: keyof typeof draws) => draws[name][i]!;
    const radius = contactRadiusOf(tip, z('contact'));
    const tension =
      liquid.surface_tension_mN_m.value * MN_M * factorOf(liquid.surface_tension_mN_m, z('surface tension'));
    const K = liquid.conductivity_S_m.value * conductivityFactor(liquid.conductivity_S_m, z('conductivity'));
    const flow = condition.flow_nL_min.value * NL_MIN * factorOf(condition.flow_nL_min, z('flow'));
    const P = pressureOf(condition.pressure, z('pressure'));
    const field =
      Math.exp(coupling * z('coupling') + geometry * z('geometry')) *
      tailFactor(prior.TAIL.geometry, z('geometry')) *
      factorOf(taper, z('taper'));
    const onset = unitOnset(tip, radius, P) * Math.sqrt(tension) * field;
    const several = between(prior.SEVERAL_FROM, z('several'));
    // The lower edge's excess over the onset is log-normal, so that it never falls below the onset.
    const steady =
      1 + between({ low: prior.STEADY_FROM.low - 1, high: prior.STEADY_FROM.high - 1 }, z('steady'));
    const top = Math.max(several, steady * prior.NARROWEST);
    const tilt = steady + (top - steady) * uniform(prior.TILT_SHARE, z('tilt'));
    window.onset_V[i] = onset;
    window.steady_from_V[i] = onset * steady;
    window.steady_down_to_V[i] = onset * steady * uniform(prior.RETURN_SHARE, z('return'));
    window.tilt_from_V[i] = onset * tilt;
    window.several_from_V[i] = onset * top;
    const inception = onset * Math.sqrt(corona(radius) / tension) * prior.CORONA[polarity];
    const spread = Math.exp((Math.log(prior.CORONA.factor) * z('discharge')) / EIGHTY);
    window.discharge_from_V[i] = Math.min(
      inception * spread,
      spark * between(prior.SPARK_SHARE, z('discharge')),
    );
    window.current_A[i] =
      prior.CURRENT_FACTOR.value *
      factorOf(prior.CURRENT_FACTOR, z('current')) *
      Math.sqrt(tension * K * flow);
    const share = prior.MINIMUM_FLOW_SHARE;
    window.minimum_flow_m3_s[i] =
      (share.low *
        (share.high / share.low) ** normalShare(z('minimum flow')) *
        permittivity *
        tension *
        VACUUM_PERMITTIVITY) /
      (density * K);
    window.resistance_ohm[i] = column / K;
  }
  return window;
}

/** A modelled conductivity may also be far off; a measured one is what it was read to be. */
export function conductivityFactor(estimate: Estimate, z: number): number {
  const tail = estimate.basis.startsWith(MEASURED) ? 1 : tailFactor(prior.TAIL.conductivity, z);
  return factorOf(estimate, z) * tail;
}

/** Onset of another outer half-angle over that of the stated one, by the closed formula's shape factors; none where the shank itself is wet. */
function taperFactor({ place, taper }: TipGeometry): { value: number; low: number; high: number } {
  if (place === 'flooded shank') return { value: 1, low: 1, high: 1 };
  const stated = taper / DEG;
  const widest = Math.max(prior.TAPER.atMost * stated, stated + prior.TAPER.atLeastMore_deg);
  const at = (halfAngle_deg: number) => shapeFactorOfTaper(halfAngle_deg) / shapeFactorOfTaper(stated);
  return { value: 1, low: at(0), high: at(widest) };
}

/** Uniform between the ends, which hold 80 %: the tails are cut at a tenth beyond. */
function uniform({ low, high }: { low: number; high: number }, z: number): number {
  return low + (high - low) * ((normalShare(z) - 0.1) / 0.8);
}

/** γ (V/V_on)² of corona against radius, interpolated on a logarithmic table over the emitter's own radii. */
function coronaTable(tip: TipOnset): (radius: number) => number {
  const first = tip.places[0]!.radius / 2;
  const last = tip.places.at(-1)!.radius * 2;
  const rows = Array.from({ length: TABLE }, (_, k) =>
    inceptionTension(first * (last / first) ** (k / (TABLE - 1))),
  );
  return (radius) => {
    const x = (Math.log(radius / first) / Math.log(last / first)) * (TABLE - 1);
    const k = Math.min(TABLE - 2, Math.max(0, Math.floor(x)));
    const [a, b] = [rows[k]!, rows[k + 1]!];
    return Number.isFinite(a) && Number.isFinite(b) ? a * (b / a) ** Math.min(1, x - k) : b;
  };
}
const TABLE = 12;
