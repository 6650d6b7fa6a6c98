/**
 * The plan of one set-up: liquid → onset and window → current, jet, droplet → tip voltage and ohmic drop together.
 * Each step is a model of its own room; here they meet, ranges are carried through, and the limits are put into words.
 */
import { type Estimate, estimate, inheritValidity, powerProduct } from '../estimate.ts';
import { type LiquidPiece, liquidResistance, loadCurrent, type SprayLoad } from '../feed/index.ts';
import {
  CONSENSUS_HIGH,
  CONSENSUS_LOW,
  currentConsensus,
  dropletDiameter,
  type JetLiquid,
  jetDiameter,
  minimumFlow,
} from '../jet/index.ts';
import { type LiquidProperties, liquidProperties } from '../liquid/index.ts';
import type { Setup } from '../setup.ts';
import { SOURCES } from '../sources.ts';
import { BAR, MM, MN_M, MPA_S, NA, NL_MIN, NM, UM } from '../units.ts';
import { electricState } from './electric.ts';
import { figure } from './figure.ts';
import { flowAtTip, staticFeedPressure } from './flow.ts';
import { contactRadius, emitterResistance, inletSide_V } from './geometry.ts';
import { gradientSetups } from './gradient.ts';
import { onsetOf } from './onset.ts';
import type { GradientRow, Plan } from './plan.ts';
import { cautionsFor, gradientWarnings, limitedBy, NOT_KNOWN, warningsFor } from './words.ts';

/** Ratios of tip voltage to onset: judgement, calibrate for each emitter. */
const STEADY_FROM = { low: 1.0, middle: 1.1, high: 1.3 };
const ADVISED = { low: 1.1, middle: 1.2, high: 1.35 };
const SEVERAL_JETS_FROM = { low: 1.2, middle: 1.5, high: 2.0 };
/** Scatter of measured jet and droplet sizes around one law. */
const JET_RANGE = { low: 0.7, high: 1.3 };
const DROPLET_RANGE = { low: 0.68, high: 1.25 };
/** Droplet sizes on which the laws were tested at all; below it they extrapolate. */
const DROPLET_TESTED_M = { low: 100e-9, high: 3e-6 };
export function planFor(setup: Setup): Plan {
  const liquid = liquidProperties(setup.liquid);
  const jetLiquid = jetLiquidOf(liquid);
  const radius = contactRadius(setup);
  const viscosity = liquid.viscosity_mPa_s.value * MPA_S;
  const hydraulic = emitterResistance(setup, viscosity);
  const flow_nL_min = flowAtTip(setup, hydraulic, jetLiquid.surfaceTension / radius);
  const flow = flow_nL_min.value * NL_MIN;

  const onset_V = onsetOf(setup, liquid, radius);
  const ratio = (r: { low: number; middle: number; high: number }, what: string) =>
    powerProduct(
      onset_V.value * r.middle,
      [{ estimate: onset_V, exponent: 1 }],
      r.low / r.middle,
      r.high / r.middle,
      {
        basis: `judgement: ${what} at ${r.low} to ${r.high} times the tip's onset`,
        sources: [SOURCES.windowRatios],
      },
    );
  const window_low_V = ratio(STEADY_FROM, 'steady cone-jet from');
  const window_high_V = ratio(SEVERAL_JETS_FROM, 'tilt or several jets from');
  const advised_V = ratio(ADVISED, 'advised point');

  const gammaTerm = { estimate: liquid.surface_tension_mN_m, exponent: 0.5 };
  const conductivityTerm = (exponent: number) => ({ estimate: liquid.conductivity_S_m, exponent });
  const flowTerm = (exponent: number) => ({ estimate: flow_nL_min, exponent });

  const current_nA = powerProduct(
    currentConsensus(jetLiquid, flow) / NA,
    [gammaTerm, conductivityTerm(0.5), flowTerm(0.5)],
    CONSENSUS_LOW,
    CONSENSUS_HIGH,
    {
      basis: 'I = 2.4 √(γ K Q), consensus band 2.0 to 2.6, one steady cone-jet',
      sources: [SOURCES.fdlm1994, SOURCES.ganan2004, SOURCES.hartman1999],
    },
  );
  const sizeTerms = [
    conductivityTerm(-1 / 6),
    flowTerm(0.5),
    { estimate: liquid.surface_tension_mN_m, exponent: -1 / 6 },
  ];
  const jet_diameter_nm = powerProduct(
    jetDiameter(jetLiquid, flow) / NM,
    sizeTerms,
    JET_RANGE.low,
    JET_RANGE.high,
    {
      basis: 'dj = 0.932 (ρ ε0 Q³/(γ K))^(1/6)',
      sources: [SOURCES.ganan1999],
    },
  );
  const drop = dropletDiameter(jetLiquid, flow);
  const dropTested = drop.diameter >= DROPLET_TESTED_M.low && drop.diameter <= DROPLET_TESTED_M.high;
  const droplet_diameter_nm = powerProduct(
    drop.diameter / NM,
    sizeTerms,
    DROPLET_RANGE.low,
    DROPLET_RANGE.high,
    {
      basis:
        drop.breakup === 'varicose'
          ? 'varicose break-up of the jet'
          : 'whipping break-up: the size that the Rayleigh limit allows',
      sources: [SOURCES.hartman2000, SOURCES.rayleigh1882],
      valid: dropTested,
      ...(dropTested ? {} : { note: 'outside the sizes on which the laws were tested (0.1 to 3 µm)' }),
    },
  );
  const least = minimumFlow(jetLiquid);
  const minimum_flow_nL_min = powerProduct(
    least.middle / NL_MIN,
    [
      { estimate: liquid.surface_tension_mN_m, exponent: 1 },
      conductivityTerm(-1),
      { estimate: liquid.permittivity_relative, exponent: 1 },
    ],
    least.low / least.middle,
    least.high / least.middle,
    { basis: '0.26 to 1 times εr γ ε0/(ρ K)', sources: [SOURCES.minimumFlow] },
  );

  const pieces = piecesOf(setup);
  const resistance = liquidResistance(jetLiquid.conductivity, pieces);
  const ohmic_resistance_Mohm = zeroOr(
    resistance / 1e6,
    [conductivityTerm(-1)],
    'R = Σ L/(K A)',
    SOURCES.ohm,
  );
  const load: SprayLoad = { onset: onset_V.value, current: current_nA.value * NA };
  const inletSide = inletSide_V(setup);
  const electric = electricState(setup, load, resistance, pieces, jetLiquid.conductivity, inletSide, {
    low: window_low_V.value,
    high: window_high_V.value,
    advised: advised_V.value,
  });
  if (flow_nL_min.high < minimum_flow_nL_min.low) {
    const [set, least, most] = [flow_nL_min.value, minimum_flow_nL_min.low, minimum_flow_nL_min.high].map(
      figure,
    );
    electric.state = {
      kind: 'flow below the minimum',
      sentence: `No steady cone-jet is expected at ${set} nL/min at any voltage: this liquid needs ${least} to ${most} nL/min.${electric.state.kind === 'cone-jet expected' ? '' : ` ${electric.state.sentence}`}`,
    };
  }
  const tipAt = electric.tip ?? advised_V.value;
  // Current and resistance share the conductivity (∝ K^½ · K^-1): its range enters once, with the net exponent.
  const ohmic_drop_V = zeroOr(
    loadCurrent(load, tipAt) * resistance,
    [gammaTerm, conductivityTerm(-0.5), flowTerm(0.5)],
    'I R of the liquid between contact and tip',
    SOURCES.ohm,
    CONSENSUS_LOW,
    CONSENSUS_HIGH,
  );
  const advisedDrop = loadCurrent(load, advised_V.value) * resistance;
  const advisedSupply = advised_V.value + advisedDrop + inletSide;
  const advised_supply_V = inheritValidity(
    estimate(
      advisedSupply,
      advisedSupply - Math.hypot(advised_V.value - advised_V.low, advisedDrop * relativeDown(ohmic_drop_V)),
      advisedSupply + Math.hypot(advised_V.high - advised_V.value, advisedDrop * relativeUp(ohmic_drop_V)),
      {
        basis: 'advised tip voltage plus ohmic drop plus inlet potential',
        sources: [SOURCES.windowRatios, SOURCES.ohm],
      },
    ),
    advised_V,
  );

  const staticPressure = staticFeedPressure(setup, jetLiquid.surfaceTension / radius);
  const feed_pressure_bar =
    staticPressure ??
    estimate(
      (hydraulic.value * flow) / BAR,
      ((hydraulic.low * flow_nL_min.low) / BAR) *
        NL_MIN *
        (liquid.viscosity_mPa_s.low / liquid.viscosity_mPa_s.value),
      ((hydraulic.high * flow_nL_min.high) / BAR) *
        NL_MIN *
        (liquid.viscosity_mPa_s.high / liquid.viscosity_mPa_s.value),
      {
        basis:
          'Hagen–Poiseuille, the emitter alone; the range spans what is known of the bore behind the tip',
        sources: [SOURCES.poiseuille],
      },
    );

  const numbers = {
    liquid,
    flow_nL_min,
    contact_line_radius_um: radius / UM,
    onset_V,
    window_low_V,
    window_high_V,
    advised_V,
    advised_supply_V,
    ...(electric.tip === undefined
      ? {}
      : { tip_V: tipEstimate(setup, electric.tip, onset_V, ohmic_drop_V, advised_V) }),
    current_nA,
    jet_diameter_nm,
    droplet_diameter_nm,
    minimum_flow_nL_min,
    ohmic_resistance_Mohm,
    ohmic_drop_V,
    feed_pressure_bar,
    electric_state: electric.state,
  };
  const rows = gradientSetups(setup).map(({ time_min, organic_percent, setup: at }) => ({
    time_min,
    organic_percent,
    plan: planFor(at),
  }));
  return {
    ...numbers,
    limited_by: limitedBy(numbers),
    warnings: [...warningsFor(setup, numbers), ...gradientWarnings(setup, rows)],
    cautions: cautionsFor(setup, numbers),
    along_gradient: rows.map((row) => gradientRow(row.time_min, row.organic_percent, row.plan)),
    not_known: NOT_KNOWN,
  };
}

function jetLiquidOf(liquid: LiquidProperties): JetLiquid {
  return {
    surfaceTension: liquid.surface_tension_mN_m.value * MN_M,
    density: liquid.density_kg_m3.value,
    conductivity: liquid.conductivity_S_m.value,
    permittivity: liquid.permittivity_relative.value,
  };
}

function piecesOf(setup: Setup): LiquidPiece[] {
  return setup.voltage.column.map((piece) => ({
    bore: piece.bore_um * UM,
    length: piece.length_mm * MM,
    openFraction: piece.open_fraction,
  }));
}

function zeroOr(
  value: number,
  terms: { estimate: Estimate; exponent: number }[],
  basis: string,
  source: string,
  low = 1,
  high = 1,
): Estimate {
  if (value === 0)
    return estimate(0, 0, 0, {
      basis: 'contact at the tip: no liquid column in between',
      sources: ['set-up document'],
    });
  return powerProduct(value, terms, low, high, { basis, sources: [source] });
}

function relativeUp(e: Estimate): number {
  return e.value === 0 ? 0 : e.high / e.value - 1;
}

function relativeDown(e: Estimate): number {
  return e.value === 0 ? 0 : 1 - e.low / e.value;
}

function tipEstimate(
  setup: Setup,
  tip: number,
  onset: Estimate,
  drop: Estimate,
  advised: Estimate,
): Estimate {
  if (setup.voltage.supply_V === undefined)
    return { ...advised, value: tip, basis: 'advised point (no supply stated)' };
  const up = drop.value - drop.low;
  const down = Math.min(drop.high - drop.value, tip * 0.99);
  const range = estimate(tip, tip - down, tip + up, {
    basis: 'supply less inlet potential less I R, solved together with the current',
    sources: [SOURCES.ohm],
  });
  return drop.value === 0 ? range : inheritValidity(range, onset, drop);
}

function gradientRow(time_min: number, organic_percent: number, plan: Plan): GradientRow {
  return {
    time_min,
    organic_percent,
    surface_tension_mN_m: plan.liquid.surface_tension_mN_m.value,
    conductivity_S_m: plan.liquid.conductivity_S_m.value,
    onset_V: plan.onset_V.value,
    window_low_V: plan.window_low_V.value,
    window_high_V: plan.window_high_V.value,
    current_nA: plan.current_nA.value,
    minimum_flow_nL_min: plan.minimum_flow_nL_min.value,
    ohmic_drop_V: plan.ohmic_drop_V.value,
  };
}
