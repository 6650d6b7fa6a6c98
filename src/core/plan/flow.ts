/**
 * Flow at the tip [nL/min]. Pumped: as set. Static: gas pressure plus the electric pull over the emitter's resistance;
 * the pull is between one capillary pressure γ/R against and two with the flow, 0.6 in the middle (judgement; the
 * electrostatic pull at onset is about 0.6 γ/R, computed).
 */
import { type Estimate, estimate } from '../estimate.ts';
import type { Setup } from '../setup.ts';
import { SOURCES } from '../sources.ts';
import { BAR, MBAR, NL_MIN } from '../units.ts';
import type { Resistance } from './geometry.ts';

const PUMP_ACCURACY = 0.05; // common practice, no source: a nanoflow pump's delivered flow without calibration
const PULL_LOW = -1;
const PULL_MIDDLE = 0.6;
const PULL_HIGH = 2;
/** A soft feed whose net pressure may vanish is known to no better than this share. */
const SMALLEST_SHARE = 0.1;

export function flowAtTip(setup: Setup, resistance: Resistance, capillaryPressure: number): Estimate {
  if (setup.feed.kind === 'pumped') {
    const flow = setup.feed.flow_nL_min;
    return estimate(flow, flow * (1 - PUMP_ACCURACY), flow * (1 + PUMP_ACCURACY), {
      basis: 'set flow, delivered within 5 %',
      sources: ['common practice, no source'],
    });
  }
  const pressure = setup.feed.back_pressure_mbar * MBAR;
  const at = (pull: number, R: number) => (pressure + pull * capillaryPressure) / R / NL_MIN;
  const value = at(PULL_MIDDLE, resistance.value);
  const low = at(PULL_LOW, resistance.high);
  const stalls = low < SMALLEST_SHARE * value;
  const flow = estimate(value, Math.max(low, SMALLEST_SHARE * value), at(PULL_HIGH, resistance.low), {
    basis: 'static feed: gas pressure and electric pull over the hydraulic resistance of the emitter',
    sources: [SOURCES.poiseuille, 'range of the electric pull: judgement'],
  });
  if (!stalls) return flow;
  return {
    ...flow,
    valid: false,
    note: 'the gas pressure is near the capillary pressure of the meniscus: the flow may also stop',
  };
}

/** Static feed: gas pressure plus the electric pull, never more than both together; undefined for a pumped feed. */
export function staticFeedPressure(setup: Setup, capillaryPressure: number): Estimate | undefined {
  if (setup.feed.kind !== 'static') return undefined;
  const gas = setup.feed.back_pressure_mbar * MBAR;
  const at = (pull: number) => Math.max(0, gas + pull * capillaryPressure) / BAR;
  return estimate(at(PULL_MIDDLE), at(PULL_LOW), at(PULL_HIGH), {
    basis: 'static feed: gas pressure and electric pull together drive the flow',
    sources: ['range of the electric pull: judgement'],
  });
}
