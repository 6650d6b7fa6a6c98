/** Between supply and tip: resistance of the liquid column, the drop in it, what the supply must give, the tip's voltage. */
import { type Estimate, estimate, inheritValidity, powerProduct } from '../estimate.ts';
import { liquidResistance, loadCurrent, type SprayLoad } from '../feed/index.ts';
import { CONSENSUS_HIGH, CONSENSUS_LOW } from '../jet/index.ts';
import type { Setup } from '../setup.ts';
import { SOURCES } from '../sources.ts';
import { NA } from '../units.ts';
import type { Condition } from './condition.ts';
import { type Electric, electricState } from './electric.ts';
import { inletSide_V } from './geometry.ts';
import type { WindowNumbers } from './window-of.ts';

export interface SupplyNumbers {
  electric: Electric;
  ohmic_resistance_Mohm: Estimate;
  ohmic_drop_V: Estimate;
  advised_supply_V: Estimate;
  tip_V?: Estimate;
}

export function supplyNumbers(
  setup: Setup,
  condition: Condition,
  current_nA: Estimate,
  { onset_V, advised_V, window }: WindowNumbers,
): SupplyNumbers {
  const { liquid, flow_nL_min, column } = condition;
  const K = liquid.conductivity_S_m;
  const resistance = liquidResistance(K.value, column);
  const load: SprayLoad = { onset: onset_V.value, current: current_nA.value * NA };
  const inletSide = inletSide_V(setup);
  const electric = electricState(setup, load, resistance, column, K.value, inletSide, {
    low: window.start_of_steady_V.value,
    high: window.several_jets_V.value,
    advised: advised_V.value,
  });
  const tipAt = electric.tip ?? advised_V.value;
  // Current and resistance share the conductivity (∝ K^½ · K^-1): its range enters once, with the net exponent.
  const ohmic_drop_V = zeroOr(
    loadCurrent(load, tipAt) * resistance,
    [
      { estimate: liquid.surface_tension_mN_m, exponent: 0.5 },
      { estimate: K, exponent: -0.5 },
      { estimate: flow_nL_min, exponent: 0.5 },
    ],
    'I R of the liquid between contact and tip',
    CONSENSUS_LOW,
    CONSENSUS_HIGH,
  );
  const drop = loadCurrent(load, advised_V.value) * resistance;
  const supply = advised_V.value + drop + inletSide;
  return {
    electric,
    ohmic_resistance_Mohm: zeroOr(resistance / 1e6, [{ estimate: K, exponent: -1 }], 'R = Σ L/(K A)'),
    ohmic_drop_V,
    advised_supply_V: inheritValidity(
      estimate(
        supply,
        supply - Math.hypot(advised_V.value - advised_V.low, drop * relativeDown(ohmic_drop_V)),
        supply + Math.hypot(advised_V.high - advised_V.value, drop * relativeUp(ohmic_drop_V)),
        {
          basis: 'advised tip voltage plus ohmic drop plus inlet potential',
          sources: [SOURCES.windowRatios, SOURCES.ohm],
        },
      ),
      advised_V,
    ),
    ...(electric.tip === undefined
      ? {}
      : { tip_V: tipEstimate(setup, electric.tip, onset_V, ohmic_drop_V, advised_V) }),
  };
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

function zeroOr(
  value: number,
  terms: { estimate: Estimate; exponent: number }[],
  basis: string,
  low = 1,
  high = 1,
): Estimate {
  if (value === 0)
    return estimate(0, 0, 0, {
      basis: 'contact at the tip: no liquid column in between',
      sources: ['set-up document'],
    });
  return powerProduct(value, terms, low, high, { basis, sources: [SOURCES.ohm] });
}

function relativeUp(e: Estimate): number {
  return e.value === 0 ? 0 : e.high / e.value - 1;
}

function relativeDown(e: Estimate): number {
  return e.value === 0 ? 0 : 1 - e.low / e.value;
}
