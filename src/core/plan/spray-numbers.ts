/** Current, jet, droplet and minimum flow of one steady cone-jet, with the ranges of their inputs carried through. */
import { type Estimate, powerProduct } from '../estimate.ts';
import {
  currentFdlm,
  currentGananCalvo,
  currentHartman,
  dropletDiameter,
  type JetLiquid,
  jetDiameter,
} from '../jet/index.ts';
import { SOURCES } from '../sources.ts';
import { NA, NL_MIN, NM } from '../units.ts';
import type { WindowDraws } from '../window/index.ts';
import type { Condition } from './condition.ts';
import { fromDraws } from './from-draws.ts';

/** Scatter of measured jet and droplet sizes around one law. */
const JET_RANGE = { low: 0.7, high: 1.3 };
const DROPLET_RANGE = { low: 0.68, high: 1.25 };
/** Droplet sizes on which the laws were tested at all; below it they extrapolate. */
const DROPLET_TESTED_M = { low: 100e-9, high: 3e-6 };

export interface SprayNumbers {
  current_nA: Estimate;
  current_laws_nA: { law: string; value: number; source: string }[];
  jet_diameter_nm: Estimate;
  droplet_diameter_nm: Estimate;
  minimum_flow_nL_min: Estimate;
}

export function sprayNumbers(condition: Condition, draws: WindowDraws): SprayNumbers {
  const { jetLiquid, liquid, flow_nL_min } = condition;
  const flow = flow_nL_min.value * NL_MIN;
  const { surface_tension_mN_m, conductivity_S_m, permittivity_relative } = liquid;
  const sizeTerms = [
    { estimate: conductivity_S_m, exponent: -1 / 6 },
    { estimate: flow_nL_min, exponent: 0.5 },
    { estimate: surface_tension_mN_m, exponent: -1 / 6 },
  ];
  const drop = dropletDiameter(jetLiquid, flow);
  const tested = drop.diameter >= DROPLET_TESTED_M.low && drop.diameter <= DROPLET_TESTED_M.high;
  return {
    current_nA: fromDraws(
      draws.current_A.map((amps) => amps / NA),
      {
        basis: 'I = 2.4 √(γ K Q), consensus band 2.0 to 2.6, one steady cone-jet',
        sources: [SOURCES.fdlm1994, SOURCES.ganan2004, SOURCES.hartman1999],
      },
      surface_tension_mN_m,
      conductivity_S_m,
      flow_nL_min,
    ),
    current_laws_nA: currentLaws(jetLiquid, flow),
    jet_diameter_nm: powerProduct(
      jetDiameter(jetLiquid, flow) / NM,
      sizeTerms,
      JET_RANGE.low,
      JET_RANGE.high,
      {
        basis: 'dj = 0.932 (ρ ε0 Q³/(γ K))^(1/6)',
        sources: [SOURCES.ganan1999],
      },
    ),
    droplet_diameter_nm: powerProduct(drop.diameter / NM, sizeTerms, DROPLET_RANGE.low, DROPLET_RANGE.high, {
      basis:
        drop.breakup === 'varicose'
          ? 'varicose break-up of the jet'
          : 'whipping break-up: the size that the Rayleigh limit allows',
      sources: [SOURCES.hartman2000, SOURCES.rayleigh1882],
      valid: tested,
      ...(tested ? {} : { note: 'outside the sizes on which the laws were tested (0.1 to 3 µm)' }),
    }),
    minimum_flow_nL_min: fromDraws(
      draws.minimum_flow_m3_s.map((least) => least / NL_MIN),
      { basis: '0.26 to 1 times εr γ ε0/(ρ K)', sources: [SOURCES.minimumFlow] },
      surface_tension_mN_m,
      conductivity_S_m,
      permittivity_relative,
    ),
  };
}

function currentLaws(liquid: JetLiquid, flow: number): SprayNumbers['current_laws_nA'] {
  return [
    { law: '18 √(γ K Q/εr)', value: currentFdlm(liquid, flow) / NA, source: SOURCES.fdlm1994 },
    { law: '2.6 √(γ K Q)', value: currentGananCalvo(liquid, flow) / NA, source: SOURCES.ganan2004 },
    { law: '2.17 √(γ K Q)', value: currentHartman(liquid, flow) / NA, source: SOURCES.hartman1999 },
  ];
}
