/** The fault's effects in time: what gas, a loose contact, hopping seats, a tired pump and a wandering axis do tick by tick. */
import type { RandomStream } from '../../core/random.ts';
import { type FaultEffects, NO_EFFECTS, type Spell } from './fault-effects.ts';
import type { BenchTruth } from './truth.ts';
import { wander } from './wander.ts';

export interface EffectsNow {
  /** Share of the pumped flow that the pump delivers, and that reaches the tip of it. */
  pumpShare: number;
  tipShare: number;
  flowLag_s: number;
  /** Gas stands in the tip. */
  gas: boolean;
  contactFactor: number;
  /** A drop that hung beside the tip falls now: its volume [nL]. */
  falls_nL: number;
  offsetDrift_mm: number;
  pressureFactor: number;
  /** 0: interrupted. */
  voltageFactor: number;
  leakFactor: number;
  tensionFactor: number;
  levelFactor: number;
  /** The instrument takes scans. */
  scanning: boolean;
  effects: FaultEffects;
}

export interface EffectsTimer {
  /** `flow_nL_min` and the charge [nC] of the tick before move what depends on them. */
  tick(time_s: number, dt: number, flow_nL_min: number, charge_nC: number): EffectsNow;
}

/** Memory of the wandering voltage and leak [s]. */
const WANDER_S = { voltage: 4, leak: 8 };
/** A wandering flow is no less than this share. */
const LEAST_FLOW = 0.05;

export function effectsTimer(truth: BenchTruth, random: RandomStream): EffectsTimer {
  let gasUntil = 0;
  let offUntil = 0;
  let gathered = 0;
  let nextBubble = random.between(0.8, 1.2);
  let seat = 1;
  let cycle = 0;
  let hanging = 0;
  const { flowWander: flow, offsetFlicker: offset } = truth.fault?.effects ?? NO_EFFECTS;
  const walks = {
    voltage: wander(1, WANDER_S.voltage, random),
    flow: wander(1, flow.memory_s, random),
    offset: wander(1, offset.memory_s, random),
    leak: wander(1, WANDER_S.leak, random),
  };

  return {
    tick(time_s, dt, flow_nL_min, charge_nC) {
      const { fault } = truth;
      const on = fault !== undefined && time_s >= fault.from_s;
      const effects = on ? fault.effects : NO_EFFECTS;
      const since = on ? time_s - fault.from_s : 0;
      const happens = (perSecond: number) => perSecond > 0 && random.unit() < perSecond * dt;
      const wandered = (name: keyof typeof walks, sd: number) => (sd === 0 ? 0 : sd * walks[name](dt));

      gathered += charge_nC * effects.gas.perNanocoulomb;
      const born = gathered >= nextBubble;
      if (born) {
        gathered = 0;
        nextBubble = random.between(0.8, 1.2);
      }
      if (born || happens(effects.gas.perSecond))
        gasUntil = time_s + random.between(effects.gas.shortest_s, effects.gas.longest_s);
      if (happens(effects.dropouts.perSecond))
        offUntil = time_s + random.between(effects.dropouts.shortest_s, effects.dropouts.longest_s);
      if (happens(effects.hops.perSecond)) seat = -seat;
      cycle += (dt * Math.max(0, flow_nL_min)) / (300 * effects.ripple.period_s);

      const { beside, flowDecay, flowWander, offsetFlicker, hops, tensionCourse } = effects;
      let falls_nL = 0;
      if (beside.volume_nL > 0) {
        hanging += (dt * Math.max(0, flow_nL_min)) / 60;
        if (hanging >= beside.volume_nL) {
          falls_nL = hanging;
          hanging = 0;
        }
      }
      const widened = beside.volume_nL > 0 ? 1 + beside.size * Math.cbrt(hanging / beside.volume_nL) : 1;
      const decay =
        flowDecay.time_s > 0
          ? flowDecay.share + (1 - flowDecay.share) * Math.exp(-since / flowDecay.time_s)
          : 1;
      const wandering = Math.max(LEAST_FLOW, 1 + wandered('flow', flowWander.sd));
      const spell = (what: Spell['what']) => spellFactor(effects.spell, what, since);
      const course = Math.min(1, since / tensionCourse.over_s);
      return {
        pumpShare:
          effects.pumpShare *
          (flowDecay.at === 'pump' ? decay : 1) *
          wandering *
          (1 + effects.ripple.share * Math.sin(2 * Math.PI * cycle)),
        tipShare:
          effects.flowShare *
          (flowDecay.at === 'tip' ? decay : 1) *
          spell('flow') *
          (seat < 0 ? hops.flowShare : 1),
        flowLag_s: flowWander.lag_s,
        gas: time_s < gasUntil || spell('gas') < 1,
        contactFactor:
          effects.contactFactor *
          (1 + 0.5 * seat * hops.size) *
          (1 + (effects.contactGrowth_per_min * since) / 60) *
          widened,
        falls_nL,
        offsetDrift_mm:
          effects.offsetError_mm +
          (effects.offsetDrift_mm_min * since) / 60 +
          wandered('offset', offsetFlicker.sd_mm),
        pressureFactor: (1 + effects.pressureShare) * (1 + effects.pressureGrowth_per_s * since),
        voltageFactor:
          time_s < offUntil ? 0 : spell('voltage') * (1 + wandered('voltage', effects.voltageWander)),
        leakFactor: Math.max(0, 1 + wandered('leak', effects.leakWander)),
        tensionFactor:
          effects.tensionFactor * (tensionCourse.from + (tensionCourse.to - tensionCourse.from) * course),
        levelFactor: spell('signal'),
        scanning: spell('scans') === 1,
        effects,
      };
    },
  };
}

function spellFactor(spell: Spell, what: Spell['what'], since: number): number {
  if (spell.what !== what || since < spell.from_s) return 1;
  const into = spell.every_s > 0 ? (since - spell.from_s) % spell.every_s : since - spell.from_s;
  if (into >= spell.lasts_s) return 1;
  const depth = what === 'signal' ? Math.sin((Math.PI * into) / spell.lasts_s) ** 2 : 1;
  return 1 + (spell.share - 1) * depth;
}
