/**
 * Where the stated supply leaves the tip: supply = tip + I R solved together, and the sentence that says it. Without a
 * stated supply, the one that would put the advised voltage at the tip.
 */
import {
  type LiquidPiece,
  loadCurrent,
  reachFromTip,
  type SprayLoad,
  supplyFor,
  tipVoltage,
} from '../feed/index.ts';
import type { Setup } from '../setup.ts';
import { NA } from '../units.ts';
import { HIGH_SUPPLY_V } from './advice-withheld.ts';
import { figure } from './figure.ts';
import type { ElectricState } from './plan.ts';

export interface Electric {
  state: ElectricState;
  tip?: number;
}

export function electricState(
  setup: Setup,
  load: SprayLoad,
  resistance: number,
  pieces: readonly LiquidPiece[],
  conductivity: number,
  inletSide: number,
  window: { low: number; high: number; advised: number },
): Electric {
  const volts = (v: number) => `${Math.round(v)} V`;
  if (setup.voltage.supply_V === undefined) {
    const supply = supplyFor(load, window.advised, resistance) + inletSide;
    if (supply > HIGH_SUPPLY_V) {
      const allowed = (HIGH_SUPPLY_V - inletSide - window.advised) / loadCurrent(load, window.advised);
      const cure =
        allowed > 0 && resistance > 0
          ? `a contact within ${figure(reachFromTip(conductivity, pieces, allowed) * 1e3)} mm of the tip would need less`
          : 'change the wetted rim or the distance first';
      return {
        state: {
          kind: 'no cone-jet at this supply and contact',
          sentence: `No supply can be advised for this set-up: more than ${volts(HIGH_SUPPLY_V)} would be needed; ${cure}.`,
        },
      };
    }
    return {
      tip: window.advised,
      state: {
        kind: 'cone-jet expected',
        sentence: `No supply voltage is stated: about ${volts(supply)} at the supply would put the advised ${volts(window.advised)} at the tip.`,
      },
    };
  }
  const across = setup.voltage.supply_V - inletSide;
  if (across < load.onset)
    return {
      state: {
        kind: 'below onset',
        sentence: `${volts(setup.voltage.supply_V)} at the supply is ${volts(across)} against the inlet, below the expected onset of ${volts(load.onset)} even without any drop.`,
      },
    };
  const tip = tipVoltage(load, across, resistance);
  if (tip === undefined) {
    const allowed = Math.max(0, (across - window.low) / loadCurrent(load, window.low));
    const reach = reachFromTip(conductivity, pieces, allowed) * 1e3;
    const place =
      across > window.low
        ? `a contact within ${figure(reach)} mm of the tip would work`
        : 'only a contact at the tip with a higher supply would work';
    return {
      state: {
        kind: 'no cone-jet at this supply and contact',
        sentence: `No cone-jet at this supply and contact: the liquid column would take ${volts(load.current * resistance)} at ${figure(load.current / NA)} nA; ${place}.`,
      },
    };
  }
  const lost = across - tip;
  const losing = lost > 0.5 ? `, ${volts(lost)} of the supply lost in the liquid column` : '';
  if (tip > window.high)
    return {
      tip,
      state: {
        kind: 'above window',
        sentence: `${volts(tip)} at the tip${losing}: above where tilt or several jets are expected (${volts(window.high)}).`,
      },
    };
  return {
    tip,
    state: {
      kind: 'cone-jet expected',
      sentence:
        tip < window.low
          ? `${volts(tip)} at the tip${losing}: just past onset, pulsation is still likely below ${volts(window.low)}.`
          : `${volts(tip)} at the tip${losing}: inside the expected window, ${volts(window.low)} to ${volts(window.high)}.`,
    },
  };
}
