/** What a fault changed in this bench, as short sentences with the drawn sizes; shown when the truth is. */
import { type FaultEffects, NO_EFFECTS } from './fault-effects.ts';

type Words = { [Name in keyof FaultEffects]: (value: FaultEffects[Name]) => string };

const n = (value: number) => String(Number(value.toPrecision(2)));
const percent = (share: number) => `${n(100 * share)} %`;
const onset = (value: number) => `${n(value)} times the onset`;

const WORDS: Words = {
  pumpShare: (share) => `The pump delivers ${percent(share)} of what it is told.`,
  flowShare: (share) => `${percent(share)} of the pumped flow reaches the tip.`,
  flowDecay: ({ time_s, share, at }) =>
    `The flow ${at === 'tip' ? 'through the tip' : 'from the pump'} dies away to ${percent(share)}, with a time constant of ${n(time_s)} s.`,
  flowWander: ({ sd, memory_s, lag_s }) =>
    `The flow wanders by ${percent(sd)} over ${n(memory_s)} s and follows the pump ${n(lag_s)} s late.`,
  ripple: ({ share, period_s }) =>
    `The flow swings by ${percent(share)} every ${n(period_s)} s at 300 nL/min, slower at lower flow.`,
  gas: ({ perSecond, perNanocoulomb }) =>
    perSecond > 0
      ? `Gas passes ${n(60 * perSecond)} times a minute.`
      : `A piece of gas passes for every ${n(1 / perNanocoulomb)} nC of current.`,
  spell: ({ what, share, from_s, lasts_s, every_s }) =>
    `${SPELLS[what](share)} for ${n(lasts_s)} s, ${every_s > 0 ? `every ${n(every_s)} s` : from_s === 0 ? 'from the start, once' : `once, ${n(from_s)} s after the fault begins`}.`,
  contactFactor: (factor) => `The contact line is ${n(factor)} times as wide as on the sound tip.`,
  contactGrowth_per_min: (growth) => `The contact line widens by ${percent(growth)} a minute.`,
  hops: ({ size, perSecond, flowShare }) =>
    `The contact line hops by ${percent(size)}, ${n(60 * perSecond)} times a minute${flowShare < 1 ? `; its narrow seat lets ${percent(flowShare)} of the flow through` : ''}.`,
  beside: ({ volume_nL, size }) =>
    `Drops of ${n(volume_nL)} nL gather beside the tip and widen the contact line by up to ${percent(size)}.`,
  tilt_deg: (angle) => `The jet leaves at ${n(Math.abs(angle))}° off the axis.`,
  extraJets: () => 'A second jet leaves beside the first, at any voltage.',
  distanceError_mm: (error) => `The tip is ${n(error)} mm further away than the stage shows.`,
  offsetError_mm: (error) => `The tip began ${n(Math.abs(error))} mm beside where it was.`,
  offsetDrift_mm_min: (drift) => `It drifts sideways by ${n(Math.abs(drift))} mm a minute.`,
  offsetFlicker: ({ sd_mm, memory_s }) =>
    `The plume flickers sideways by ${n(sd_mm)} mm over ${n(memory_s)} s.`,
  pressureShare: (share) =>
    `The pressure is ${percent(Math.abs(share))} ${share < 0 ? 'lower' : 'higher'} than usual.`,
  pressureGrowth_per_s: (growth) => `The pressure rises by ${percent(60 * growth)} a minute.`,
  leak_ohm: (ohm) => `A path of ${n(ohm / 1e9)} GΩ carries current beside the spray.`,
  leakWander: (sd) => `What flows there wanders by ${percent(sd)}.`,
  mains_A: (amplitude) => `The mains adds ${n(amplitude * 1e9)} nA.`,
  voltageWander: (sd) => `The tip’s voltage wanders by ${percent(sd)}.`,
  column_ohm: (ohm) => `${n(ohm / 1e9)} GΩ of liquid stand between contact and tip.`,
  dropouts: ({ perSecond, longest_s }) =>
    `The voltage drops out ${n(60 * perSecond)} times a minute, for up to ${n(longest_s)} s.`,
  coronaFrom: (ratio) => `Corona starts at ${onset(ratio)}.`,
  arcs: ({ from, perSecond }) => `Arcs jump from ${onset(from)} on, ${n(perSecond)} a second.`,
  conductivityFactor: (factor) => `The liquid conducts ${n(factor)} times as well as it should.`,
  tensionFactor: (factor) => `The surface tension is ${n(factor)} times what it should be.`,
  tensionCourse: ({ from, to, over_s }) =>
    `The surface tension goes from ${n(from)} to ${n(to)} times its usual value within ${n(over_s)} s.`,
  inletShare: (share) => `${percent(share)} of the usual signal arrives.`,
  leftLow: (share) =>
    `The voltage was left too low: ${percent(share)} of the way from the onset to where the cone-jet stands.`,
  leftHigh: (factor) => `The voltage was left too high: ${n(factor)} times that of the second jet.`,
  peakWidth: (factor) => `Peaks are ${n(factor)} times as wide as they should be.`,
  peakTail_s: (time_s) => `Peaks trail with a time constant of ${n(time_s)} s.`,
  oddScans: ({ share, low, high, onAxis }) =>
    `${percent(share)} of the scans are ${n(low)} to ${n(high)} times as large${onAxis ? ' while the tip points at the inlet' : ''}.`,
};

const SPELLS: Record<FaultEffects['spell']['what'], (share: number) => string> = {
  nothing: () => 'Nothing happens',
  gas: () => 'Gas fills the tip',
  voltage: (share) => (share === 0 ? 'The voltage is off' : `The voltage falls to ${percent(share)}`),
  flow: () => 'The flow stops',
  scans: () => 'No scans are taken',
  signal: (share) => `The signal sinks to ${percent(share)}`,
};

export function effectWords(effects: FaultEffects): string[] {
  return changedNames(effects).map((name) => (WORDS[name] as (value: unknown) => string)(effects[name]));
}

/** The effects that differ from those of a sound bench. */
export function changedNames(effects: FaultEffects): (keyof FaultEffects)[] {
  return (Object.keys(NO_EFFECTS) as (keyof FaultEffects)[]).filter(
    (name) => JSON.stringify(effects[name]) !== JSON.stringify(NO_EFFECTS[name]),
  );
}
