/** The fault's effects in time: what gas, a loose contact, hopping seats, a tired pump and a wandering axis do tick by tick. */
import type { RandomStream } from '../../core/random.ts';
import { type FaultEffects, NO_EFFECTS } from './fault-effects.ts';
import type { BenchTruth } from './truth.ts';

export interface EffectsNow {
  /** Share of the pumped flow that the pump delivers, and that reaches the tip of it. */
  pumpShare: number;
  tipShare: number;
  /** Gas stands in the tip. */
  gas: boolean;
  /** The high voltage is interrupted. */
  interrupted: boolean;
  contactFactor: number;
  offsetDrift_mm: number;
  pressureFactor: number;
  voltageFactor: number;
  effects: FaultEffects;
}

export interface EffectsTimer {
  /** `flow_nL_min` and the charge [nC] of the tick before move what depends on them. */
  tick(time_s: number, dt: number, flow_nL_min: number, charge_nC: number): EffectsNow;
}

/** Length of an interruption [s]. */
const DROPOUT = { shortest: 0.03, longest: 0.6 };
/** Correlation time of the wandering voltage [s]. */
const WANDER_S = 4;

export function effectsTimer(truth: BenchTruth, random: RandomStream): EffectsTimer {
  let gasUntil = 0;
  let offUntil = 0;
  let gathered = 0;
  let nextBubble = random.between(0.8, 1.2);
  let seat = 1;
  let cycle = 0;
  let wander = 0;

  return {
    tick(time_s, dt, flow_nL_min, charge_nC) {
      const { fault } = truth;
      const on = fault !== undefined && time_s >= fault.from_s;
      const effects = on ? fault.effects : NO_EFFECTS;
      const since = on ? time_s - fault.from_s : 0;
      const happens = (perSecond: number) => perSecond > 0 && random.unit() < perSecond * dt;

      gathered += charge_nC * effects.gas.perNanocoulomb;
      const born = gathered >= nextBubble;
      if (born) {
        gathered = 0;
        nextBubble = random.between(0.8, 1.2);
      }
      if (born || happens(effects.gas.perSecond))
        gasUntil = time_s + random.between(effects.gas.shortest_s, effects.gas.longest_s);
      if (happens(effects.dropouts_per_s))
        offUntil = time_s + random.between(DROPOUT.shortest, DROPOUT.longest);
      if (happens(effects.hops.perSecond)) seat = -seat;
      cycle += (dt * Math.max(0, flow_nL_min)) / (300 * effects.ripple.period_s);
      wander += (-wander * dt) / WANDER_S + Math.sqrt((2 * dt) / WANDER_S) * random.normal();

      const decay =
        effects.flowDecay_s > 0 ? DECAY_END + (1 - DECAY_END) * Math.exp(-since / effects.flowDecay_s) : 1;
      return {
        pumpShare: decay * (1 + effects.ripple.share * Math.sin(2 * Math.PI * cycle)),
        tipShare: effects.flowShare,
        gas: time_s < gasUntil,
        interrupted: time_s < offUntil,
        contactFactor: effects.contactFactor * (1 + 0.5 * seat * effects.hops.size),
        offsetDrift_mm: effects.offsetError_mm + (effects.offsetDrift_mm_min * since) / 60,
        pressureFactor: (1 + effects.pressureShare) * (1 + effects.pressureGrowth_per_s * since),
        voltageFactor: 1 + effects.voltageWander * wander,
        effects,
      };
    },
  };
}

/** A pump that no longer delivers still leaks this share forward. */
const DECAY_END = 0.04;
