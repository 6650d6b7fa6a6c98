/**
 * The plan along a gradient: composition at the tip against time, the window's draws along it, the best fixed supply for
 * the elution with the wash judged apart, the shortest ramp, the minutes at risk and where to walk the voltage.
 * Quasi-static: at each moment the spray answers as if that composition stood for ever (a meniscus settles in milliseconds,
 * a composition moves in seconds or more). The flow is constant along the run.
 */
import { inputError } from '../errors.ts';
import type { GradientSpec, LiquidColumnSegment } from '../setup.ts';
import { NA, NL_MIN } from '../units.ts';
import type { WindowDraws } from '../window/draws.ts';
import { bandOf, openBandOf } from './bands.ts';
import { drawsAlong } from './draws-along.ts';
import { fixedSupply } from './fixed-supply.ts';
import { gradientParts, type Parts } from './gradient-parts.ts';
import type { GradientPart, GradientPlan, PartSpan, StateProbabilities, TipDelay } from './gradient-plan.ts';
import { SPRAY_STATES } from './gradient-plan.ts';
import { delayWords, dropWords, leastDelay, winWords } from './gradient-words.ts';
import { bestVoltage, gridSize, holdingCounts, holdingShare, stretchOf } from './holding.ts';
import type { Moment } from './moment.ts';
import { percentile } from './percentiles.ts';
import { gradientRisks } from './risks.ts';
import { REFERENCE_RATIO, stateShares, supplyEdges } from './supply-edges.ts';
import { supplyRamp } from './supply-ramp.ts';
import { pumpOrganic, tipComposition } from './tip-composition.ts';
import { tipDelay } from './tip-delay.ts';
import { walkPoints } from './walk-points.ts';

export interface AlongGradientInput {
  gradient: GradientSpec;
  /** Flow at the tip, constant along the run. */
  flow_nL_min: number;
  /** The window's draws at one composition; draw i is the same imagined emitter at each. Called once for each grid composition. */
  conditionsAt: (organic_percent: number) => WindowDraws;
  /** What the supply must stand above to leave nothing across the gap [V]. */
  inletSide_V: number;
  /** No supply above this is advised [V]. */
  supplyLimit_V: number;
  contactRadius_um: number;
  /** Liquid between contact and tip; without volumes it tells the least delay. */
  column?: readonly LiquidColumnSegment[] | undefined;
  /** The stated supply; absent: the fixed supply found here is judged. */
  supply_V?: number | undefined;
  /** Ramp: share of draws that hold over a step; absent: three quarters of the best reachable. */
  target?: number | undefined;
  /** Ramp: distance kept to both edges; default 0 V. */
  margin_V?: number | undefined;
  /** Default 2.5 % organic. */
  compositionStep_percent?: number | undefined;
  /** Moments over the run, default 180. */
  moments?: number | undefined;
}

const MOMENTS = 180;
/** The supply at which this share of the draws discharge is the ceiling. */
const DISCHARGE_SHARE = 0.1;
/** After the table's end the run is followed until the last composition has passed the tip. */
const PASSED_SD = 3;

export function alongGradient(input: AlongGradientInput): GradientPlan {
  const { gradient, flow_nL_min, inletSide_V, supplyLimit_V } = input;
  if (!(flow_nL_min > 0))
    throw inputError('out of range', 'feed.flow_nL_min', `${flow_nL_min} nL/min`, 'above 0 nL/min');
  const delay = gradient.volumes === undefined ? null : tipDelay(gradient.volumes, flow_nL_min);
  const { times, organicAt, parts } = timeAxis(gradient, delay, input.moments ?? MOMENTS);
  const organic = times.map(organicAt);
  const drawsAt = drawsAlong(input.conditionsAt, input.compositionStep_percent);
  const moments = times.map((time_min, k): Moment => {
    const edges = supplyEdges(drawsAt(organic[k]!), inletSide_V, flow_nL_min * NL_MIN);
    return {
      time_min,
      organic_percent: organic[k]!,
      part: partOf(time_min, parts),
      edges,
      ceiling_V: Math.min(supplyLimit_V, Math.max(0, percentile(edges.discharge, DISCHARGE_SHARE))),
    };
  });
  const fixed = fixedSupply(moments, supplyLimit_V);
  const ramp = supplyRamp(moments, supplyLimit_V, fixed.supply_V, input.target, input.margin_V);
  const best_alone = bestAlone(moments, supplyLimit_V);
  const judgedSupply = input.supply_V ?? fixed.supply_V ?? 0;
  const which =
    input.supply_V !== undefined ? 'stated supply' : fixed.supply_V === null ? 'none' : 'fixed supply';
  // Without any voltage to judge only the flow can be at risk.
  const risks = gradientRisks(moments, judgedSupply, flow_nL_min).filter(
    (risk) => which !== 'none' || risk.kind === 'below minimum flow',
  );
  const of = (values: (moment: Moment) => ArrayLike<number>) => bandOf(moments.map(values));
  const span = (part: { start_min: number; end_min: number }): PartSpan => ({
    start_min: part.start_min,
    end_min: part.end_min,
    start_organic_percent: organicAt(part.start_min),
    end_organic_percent: organicAt(part.end_min),
  });
  const plan: GradientPlan = {
    delay,
    times_min: times,
    organic_percent: organic,
    part: moments.map((m) => m.part),
    onset_V: of((m) => m.edges.draws.onset_V),
    steady_from_V: of((m) => m.edges.draws.steady_from_V),
    tilt_from_V: of((m) => m.edges.draws.tilt_from_V),
    several_from_V: of((m) => m.edges.draws.several_from_V),
    discharge_from_V: openBandOf(of((m) => m.edges.draws.discharge_from_V)),
    supply_from_V: of((m) => m.edges.steady),
    supply_to_V: of((m) => m.edges.top),
    current_nA: of((m) => m.edges.draws.current_A.map((amps) => amps / NA)),
    minimum_flow_nL_min: of((m) => m.edges.draws.minimum_flow_m3_s.map((flow) => flow / NL_MIN)),
    flow_nL_min,
    ohmic_drop_V: of((m) => m.edges.drop),
    ohmic_share: of((m) =>
      m.edges.drop.map((drop, i) => drop / (drop + REFERENCE_RATIO * m.edges.draws.onset_V[i]!)),
    ),
    below_minimum_flow_probability: moments.map(
      (m) => 1 - m.edges.flows.reduce((sum, v) => sum + v, 0) / m.edges.count,
    ),
    best_alone,
    ceiling_V: moments.map((m) => m.ceiling_V),
    elution: { ...span(parts.elution), rule: parts.elution.rule },
    ...(parts.wash === undefined ? {} : { wash: span(parts.wash) }),
    fixed,
    judged: {
      supply_V: judgedSupply,
      which,
      states: statesAlong(moments, judgedSupply),
    },
    ramp,
    risks,
    walk_at: walkPoints(
      moments,
      best_alone.probability,
      (percent) => percentBOf(gradient, percent),
      delay,
      input.contactRadius_um,
    ),
    sentences: [],
    sources: SOURCES_ALONG,
  };
  plan.sentences = [
    ...delayWords(delay, leastDelay(input.column ?? [], flow_nL_min)),
    ...fixed.sentences,
    ...ramp.sentences,
    ...winWords(fixed.probability, ramp.probability),
    ...dropWords(plan),
  ];
  return plan;
}

/** Even times from the start to the passing of the table's last composition, with its kinks and the elution's ends among them. */
function timeAxis(gradient: GradientSpec, delay: TipDelay | null, count: number) {
  const start = Math.min(0, gradient.table[0]!.time_min);
  const last = gradient.table.at(-1)!.time_min;
  const end = last + (delay === null ? 0 : delay.delay_min + PASSED_SD * delay.smearing_min);
  const organicAt = tipComposition(gradient, delay, end);
  const even = Array.from({ length: count + 1 }, (_, k) => start + ((end - start) * k) / count);
  const kinks = gradient.table.map((row) => row.time_min + (delay?.delay_min ?? 0));
  const merged = (times: readonly number[]) =>
    [...times]
      .filter((time) => time >= start && time <= end)
      .sort((a, b) => a - b)
      .filter((time, k, all) => k === 0 || time - all[k - 1]! > CLOSEST_TIMES_MIN);
  const times = merged([...even, ...kinks]);
  const parts = gradientParts(gradient, delay?.delay_min ?? 0, times, organicAt);
  return { times: merged([...times, parts.elution.start_min, parts.elution.end_min]), organicAt, parts };
}
/** Times nearer than this are one moment. */
const CLOSEST_TIMES_MIN = 1e-9;

function partOf(time: number, { elution, wash }: Parts): GradientPart {
  if (time < elution.start_min - CLOSEST_TIMES_MIN) return 'start';
  if (time <= elution.end_min + CLOSEST_TIMES_MIN) return 'elution';
  return wash !== undefined && time <= wash.end_min ? 'wash' : 'after';
}

function percentBOf(gradient: GradientSpec, organic_percent: number): number {
  const [a, b] = [pumpOrganic(gradient, 0), pumpOrganic(gradient, 100)];
  return a === b ? 0 : Math.min(100, Math.max(0, ((organic_percent - a) / (b - a)) * 100));
}

function bestAlone(moments: readonly Moment[], supplyLimit_V: number): GradientPlan['best_alone'] {
  const size = gridSize(supplyLimit_V);
  const found = moments.map((moment) => {
    const alone = stretchOf([moment], moment.edges.count);
    const supply = bestVoltage(holdingCounts(alone, size, false)) ?? null;
    return { supply, probability: supply === null ? 0 : holdingShare(alone, supply, false) };
  });
  return { supply_V: found.map((f) => f.supply), probability: found.map((f) => f.probability) };
}

function statesAlong(moments: readonly Moment[], supply: number): StateProbabilities {
  const shares = moments.map((moment) => stateShares(moment.edges, supply));
  return Object.fromEntries(
    SPRAY_STATES.map((state) => [state, shares.map((s) => s[state])]),
  ) as StateProbabilities;
}

const SOURCES_ALONG = [
  'Taylor 1953, Proc. R. Soc. A 219, 186; Aris 1956, Proc. R. Soc. A 235, 67 (from memory): dispersion in open tubes',
  'Ananthakrishnan, Gill & Barduhn 1965, AIChE J. 11, 1063 (from memory): when it holds',
  'Knox 1977, J. Chromatogr. Sci. 15, 352 (from memory): reduced plate height',
  'Enke & Jackson 1999, Anal. Chem. 71, 3777 (read (abstract)): spray as a constant-current element in series with the solution',
  'Marginean et al. 2007, Anal. Chem. 79, 8030 (read (abstract)): a gradient makes continuous cone-jet operation difficult',
  'parts of the run, listing thresholds, walk steps: judgement and common practice, no source',
];
