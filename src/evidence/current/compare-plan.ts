/**
 * The level against what the set-up leads one to expect. 1.4 times: a second jet; twice: several jets, corona or a leak, told apart by the shape of the
 * step (sharp: a jet; creeping: a leak; with noise: a discharge) and by the current with high voltage on and the flow off, which a leak and a corona
 * share and no jet has. Before the person's own steady reading stands behind it, the expected band spans a factor 2 either way: inside it the ratio alone
 * speaks for nothing but 'as planned'. Weights are judgement.
 */
import type { Plan } from '../../core/plan/index.ts';
import { pulsationRange } from '../../core/signal/index.ts';
import { MN_M, UM } from '../../core/units.ts';
import type { PlanComparison } from './current-reading.ts';
import { currentText } from './labels.ts';
import type { ExpectedCurrent, RegimeProbabilities } from './regimes.ts';
import { squareRootStep } from './regimes.ts';
import type { LevelStep } from './steps.ts';

const NA = 1e-9;
const UNCALIBRATED = 2;
/** A person's own steady reading holds to this, from day to day (judgement). */
const CALIBRATED = 1.2;
const CREEPING = 0.15;
/** Of a meaning that only an uncalibrated ratio speaks for. */
const UNCALIBRATED_WEIGHT = 0.3;
/** A flow-off current worth taking off, of the level. */
const LEAK_SAID = 0.02;

/** `steady_nA`: what the person read on this emitter while it was steady. */
export function expectedCurrent(plan: Plan, steady_nA?: number): ExpectedCurrent {
  const value = (steady_nA ?? plan.current_nA.value) * NA;
  const factor = steady_nA === undefined ? UNCALIBRATED : CALIBRATED;
  return {
    current_A: value,
    low_A: value / factor,
    high_A: value * factor,
    calibrated: steady_nA !== undefined,
  };
}

/** Where this emitter and liquid would pulsate [Hz]. */
export function expectedPulsation(plan: Plan): { low: number; high: number } {
  return pulsationRange(
    {
      surfaceTension: plan.liquid.surface_tension_mN_m.value * MN_M,
      density: plan.liquid.density_kg_m3.value,
    },
    plan.contact_line_radius_um * UM,
    plan.flow_nL_min.value / plan.minimum_flow_nL_min.value,
  );
}

export interface PlanEvidence {
  expected: ExpectedCurrent;
  pulsation_Hz: { low: number; high: number };
  level_A: number;
  /** Of the stretch the level stands for, over its level. */
  drift: number;
  steps: readonly LevelStep[];
  shares: RegimeProbabilities;
  /** Measured with high voltage on and no flow [A]. */
  flow_off_A?: number | undefined;
}

export function comparePlan(evidence: PlanEvidence): PlanComparison {
  const { expected, level_A, steps, shares, flow_off_A } = evidence;
  const ratio = level_A / expected.current_A;
  const wide = Math.log(expected.calibrated ? 1.12 : UNCALIBRATED) / (expected.calibrated ? 1 : 1.3);
  const near = (centre: number, width = wide) =>
    Math.exp(-0.5 * (Math.log(Math.max(ratio, 1e-6) / centre) / width) ** 2);
  const births = steps.filter(
    (s) => s.after_A > s.before_A && s.sharp && squareRootStep(s.after_A / s.before_A),
  );
  const creeps = evidence.drift > CREEPING || steps.some((s) => s.after_A > s.before_A && !s.sharp);
  const noisy = steps.filter((s) => s.after_A > s.before_A && s.noisier > 4);
  const leak = flow_off_A === undefined ? undefined : flow_off_A / Math.max(level_A, NA);
  const high = ratio > 1.25 ? 1 : 0;
  const inside = level_A >= expected.low_A && level_A <= expected.high_A;
  // What only the ratio speaks for counts little while the ratio is not calibrated.
  const unproven = expected.calibrated ? 1 : UNCALIBRATED_WEIGHT;
  const burning = noisy.length > 0 || shares.discharge > 0.2;
  const stays = leak !== undefined && leak > 0.2;
  const weights: [PlanComparison['meanings'][number]['cause'], number, string][] = [
    [
      'as planned',
      (!expected.calibrated && inside ? 1 : near(1)) + 0.02,
      'the level lies near the expected one',
    ],
    [
      'second jet',
      high * near(Math.SQRT2) * (births.length > 0 ? 4 : 0.8 * unproven),
      births.length > 0
        ? 'a sharp step by the square root of a whole number was seen'
        : '1.4 times the current of one jet',
    ],
    [
      'several jets',
      high *
        Math.max(near(Math.sqrt(3)), near(2)) *
        (births.length > 1 ? 4 : births.length > 0 ? 1.5 : 0.7 * unproven),
      births.length > 1 ? 'several sharp steps by square roots' : 'twice the current of one jet is four',
    ],
    [
      'corona',
      high * (ratio > 1.5 ? 0.7 : 0.25) * (burning ? 4 : 0.6 * unproven) * (stays ? 3 : 1),
      burning ? 'the rise came with spikes or noise' : 'more current than any single jet',
    ],
    [
      'leak',
      high *
        0.6 *
        (creeps ? 2.5 : 0.6 * (stays ? 1 : unproven)) *
        (leak === undefined ? 1 : stays ? (burning ? 3 : 6) : 0.1),
      leak === undefined
        ? 'not excluded: read the current with high voltage on and the flow off'
        : `with the flow off ${currentText(flow_off_A! / NA)} still flow`,
    ],
    [
      'pulsation or lost flow',
      shares.pulsating + (ratio < 0.7 ? near(0.5, Math.max(wide, 0.35)) * 1.5 * unproven : 0.02),
      'a pulsating spray carries 0.3 to 0.8 of the steady current',
    ],
  ];
  const sum = weights.reduce((s, [, w]) => s + w, 0);
  const meanings = weights
    .map(([cause, w, why]) => ({ cause, probability: w / sum, why }))
    .sort((a, b) => b.probability - a.probability);
  return {
    expected_nA: { value: expected.current_A / NA, low: expected.low_A / NA, high: expected.high_A / NA },
    calibrated: expected.calibrated,
    level_nA: level_A / NA,
    ratio,
    inside,
    meanings,
    pulsation_Hz: evidence.pulsation_Hz,
    sentence: `${sentenceOf(expected, level_A, ratio, inside, meanings, leak === undefined)}${withoutLeak(expected, level_A, flow_off_A)}`,
  };
}

/** What flows with the flow off is no spray: the rest is what the plan speaks of. */
function withoutLeak(expected: ExpectedCurrent, level_A: number, flow_off_A: number | undefined): string {
  if (flow_off_A === undefined || flow_off_A < LEAK_SAID * level_A) return '';
  const left_A = level_A - flow_off_A;
  if (left_A <= 0) return ' As much flows with the flow off: none of it need be spray.';
  return ` Without what flows with the flow off, ${currentText(left_A / NA)} are left, ${Number((left_A / expected.current_A).toPrecision(2))} times.`;
}

function sentenceOf(
  expected: ExpectedCurrent,
  level_A: number,
  ratio: number,
  inside: boolean,
  meanings: PlanComparison['meanings'],
  noFlowOff: boolean,
): string {
  const band = `${currentText(expected.low_A / NA)} to ${currentText(expected.high_A / NA)}`;
  const start = `${currentText(level_A / NA)} against ${currentText(expected.current_A / NA)} expected (${band}), ${Number(ratio.toPrecision(2))} times`;
  if (!expected.calibrated)
    return `${start}: ${inside ? 'inside the band' : 'outside the band'}. The band spans a factor 2 either way until your own steady reading (--steady_nA) stands behind it; it names no regime by itself.`;
  const first = meanings[0]!;
  if (first.cause === 'as planned') return `${start}: as planned.`;
  const flow =
    noFlowOff && ratio > 1.25
      ? ' The current with high voltage on and the flow off (--flow-off_nA) tells jets from a leak.'
      : '';
  return `${start}: ${first.cause} likeliest (${Math.round(100 * first.probability)} %): ${first.why}.${flow}`;
}
