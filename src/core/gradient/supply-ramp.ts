/**
 * A staircase of supply voltages with the fewest steps (staircase.ts) that keep a stated margin through the elution: over
 * each step's moments the share of draws that hold at one voltage is at least the target, with `margin_V` to both edges and
 * never above the ceiling. Without a target, or where no voltage reaches it at the worst moment even alone, three quarters
 * of what the best voltage reaches there is kept instead. With as many steps the highest target they can keep is then
 * taken, which spreads the margin evenly; the voltages of these steps are then chosen so that most draws hold throughout
 * (together.ts). A moment that no voltage holds in 5 % of the draws asks for nothing.
 * The first voltage stands from the start of the run. For the wash at most one more step, and only down: an unsteady wash
 * costs no analyte, and a raise made for it would stand or fall with the least known conductivity.
 * Kept at the moments of the time grid. A table for a person to enter: a raise asks for a yes at the bench each time.
 */
import type { RampStep, SupplyRamp } from './gradient-plan.ts';
import {
  bestVoltage,
  gridSize,
  holdingCounts,
  holdingShare,
  holds,
  type Stretch,
  stretchOf,
} from './holding.ts';
import { medianTip } from './median-tip.ts';
import { chanceWords, type Moment, minuteWords, percentWords } from './moment.ts';
import { percentile } from './percentiles.ts';
import { roundDown, type Stair, type StaircaseTask, staircase } from './staircase.ts';
import { together } from './together.ts';

/** Share of the best reachable probability that is kept without a target (judgement). */
const KEPT_OF_REACHABLE = 0.75;
/** Halvings of the interval in which the highest target is sought: 1/256 of it is below one draw in 200. */
const HALVINGS = 8;
/** A step down for the wash must win this much probability of holding it (judgement). */
const WASH_WIN = 0.1;
/** A moment that fewer draws can be held at cannot be kept by any voltage (judgement). */
const UNKEEPABLE_UNDER = 0.05;

/** `fixed_V`: the best single voltage; null where none holds any draw: then there is no ramp either. */
export function supplyRamp(
  moments: readonly Moment[],
  supplyLimit_V: number,
  fixed_V: number | null,
  target?: number,
  margin_V = 0,
): SupplyRamp {
  const size = gridSize(supplyLimit_V);
  const count = moments[0]!.edges.count;
  const first = moments.findIndex((m) => m.part === 'elution');
  const end = moments.findLastIndex((m) => m.part === 'elution');
  const reach = moments.map((moment) => reachable(moment, size, margin_V));
  const demands = reach.map((share) => share >= UNKEEPABLE_UNDER);
  const demanding = reach.filter((_, k) => demands[k] && k >= first && k <= end);
  const ramp: SupplyRamp = {
    target_asked: target ?? null,
    target_kept: 0,
    margin_V,
    steps: [],
    probability: 0,
    sentences: [],
  };
  if (fixed_V === null || demanding.length === 0) {
    ramp.sentences = ['No ramp can be given: no voltage under the limit sprays steadily in the elution.'];
    return ramp;
  }
  const most = Math.min(...demanding);
  ramp.target_kept = target !== undefined && target <= most ? target : KEPT_OF_REACHABLE * most;
  const task = {
    moments,
    first,
    end,
    demands,
    size,
    margin: margin_V,
    opening: Math.min(...moments.slice(0, first + 1).map((m) => m.ceiling_V)),
    fallback: fixed_V,
  };
  const least = ramp.target_kept;
  const chosen = joined(together(task, joined(evenest(task, least, most, count)), least * count));
  const alive = new Uint8Array(count).fill(1);
  const { steps } = ramp;
  const add = (from: number, to: number, stretch: Stretch, supply: number) => {
    const before = steps.at(-1);
    const next = moments[to + 1] ?? moments[to]!;
    steps.push({
      time_min: moments[from]!.time_min,
      until_min: next.time_min,
      supply_V: supply,
      tip_V: medianTip(moments[from]!, supply),
      probability: holdingShare(stretch, supply, true),
      to_lower_edge_V: supply - percentile(stretch.low, 0.5),
      to_upper_edge_V: Math.min(percentile(stretch.high, 0.5), supplyLimit_V) - supply,
      raises: before !== undefined && supply > before.supply_V,
      reason: reasonFor(moments[from]!, moments[to]!, supply, before, moments),
    });
  };
  for (const { from, to, supply } of chosen) {
    const stretch = stretchOf(moments.slice(from, to + 1), count);
    alive.forEach((v, i) => {
      alive[i] = v & (holds(stretch, i, supply) ? stretch.flows[i]! : 0);
    });
    add(from === first ? 0 : from, to, stretch, supply);
    // Steps joined below may hold fewer draws over both than over each.
    const held = moments.slice(from, to + 1).filter((_, k) => demands[from + k]);
    ramp.target_kept = Math.min(ramp.target_kept, holdingShare(stretchOf(held, count), supply, false));
  }
  ramp.probability = alive.reduce((sum, v) => sum + v, 0) / count;
  addWash(moments, steps, size, add);
  steps.at(-1)!.until_min = moments.at(-1)!.time_min;
  ramp.sentences = sentencesFor(ramp, chosen.length, demanding.length < end - first + 1);
  return ramp;
}

/** As few steps as the target allows, at the highest target that as few still keep. */
function evenest(task: StaircaseTask, least: number, most: number, count: number): Stair[] {
  let chosen = staircase(task, least * count);
  let kept = least;
  let out = most;
  for (let k = 0; k < HALVINGS; k++) {
    const share = (kept + out) / 2;
    const tried = staircase(task, share * count);
    if (tried.length === chosen.length && tried.every((step) => step.keeps)) {
      kept = share;
      chosen = tried;
    } else out = share;
  }
  return chosen;
}

/** Neighbours at one voltage are one step: each holds enough draws there, only not the same ones. */
function joined(stairs: readonly Stair[]): Stair[] {
  const steps: Stair[] = [];
  for (const stair of stairs) {
    const before = steps.at(-1);
    if (before?.supply === stair.supply) steps[steps.length - 1] = { ...before, to: stair.to };
    else steps.push(stair);
  }
  return steps;
}

/** The largest share of draws that any voltage holds at this moment alone. */
function reachable(moment: Moment, size: number, margin: number): number {
  const { count } = moment.edges;
  return Math.max(...holdingCounts(stretchOf([moment], count, margin), size, false)) / count;
}

/** One step down for the wash where it wins enough, or where the ceiling there asks for it. */
function addWash(
  moments: readonly Moment[],
  steps: readonly RampStep[],
  size: number,
  add: (from: number, to: number, stretch: Stretch, supply: number) => void,
): void {
  const from = moments.findIndex((m) => m.part === 'wash');
  const rest = moments.slice(moments.findLastIndex((m) => m.part === 'elution') + 1);
  const last = steps.at(-1)!.supply_V;
  const ceiling = Math.min(last, ...rest.map((m) => m.ceiling_V));
  const to = moments.findLastIndex((m) => m.part === 'wash');
  if (from < 0) {
    if (ceiling < last) {
      const at = moments.length - rest.length;
      add(at, moments.length - 1, stretchOf(rest, moments[0]!.edges.count), roundDown(ceiling));
    }
    return;
  }
  const wash = stretchOf(moments.slice(from, to + 1), moments[0]!.edges.count);
  const supply = bestVoltage(holdingCounts({ ...wash, ceiling }, size, false)) ?? roundDown(ceiling);
  const win = holdingShare(wash, supply, false) - holdingShare(wash, last, false);
  if (supply < last && (win >= WASH_WIN || ceiling < last)) add(from, to, wash, supply);
}

function reasonFor(
  first: Moment,
  last: Moment,
  supply: number,
  before: RampStep | undefined,
  moments: readonly Moment[],
): string {
  const span = `${percentWords(first.organic_percent)} to ${percentWords(last.organic_percent)} organic`;
  if (before === undefined) return `${span}: start, reached by hand in steps`;
  if (first.part === 'wash') return `${span}: lower for the wash`;
  const middle = (values: Float64Array) => percentile(values, 0.5);
  const past = moments.find((m) => m.time_min >= before.time_min)!;
  const drop = middle(first.edges.drop) - middle(past.edges.drop);
  const onset = middle(first.edges.draws.onset_V) - middle(past.edges.draws.onset_V);
  const words = (change: number, what: string) =>
    `${what} ${change < 0 ? 'has fallen' : 'has risen'} by about ${Math.abs(Math.round(change))} V`;
  const main = Math.abs(onset) >= Math.abs(drop) ? words(onset, 'onset') : words(drop, 'the ohmic drop');
  return `${span}: ${supply > before.supply_V ? 'higher' : 'lower'}, ${main}`;
}

function sentencesFor(ramp: SupplyRamp, inElution: number, unkeepable: boolean): string[] {
  const { steps } = ramp;
  const said: string[] = [];
  const forWash =
    steps.length > inElution ? ` Then ${steps.at(-1)!.supply_V} V for what follows the elution.` : '';
  const kept = chanceWords(ramp.target_kept);
  said.push(
    inElution === 1
      ? `No ramp is needed in the elution: ${steps[0]!.supply_V} V alone keeps at least ${kept}.${forWash}`
      : `Ramp: ${inElution} voltages are the fewest that keep at least ${kept} in each step; ${chanceWords(ramp.probability)} steady through the whole elution.${forWash}`,
  );
  if (steps.length > 1) {
    said.push(
      'A person enters the table; every raise asks for a yes at the bench, with hands clear of the source.',
    );
    const last = steps.at(-1)!;
    if (last.supply_V < steps[0]!.supply_V)
      said.push(
        `Before the next run, not under it, go back from ${last.supply_V} V to ${steps[0]!.supply_V} V: a raise, so it asks for a yes.`,
      );
    const raise = steps.find((step) => step.raises);
    if (raise) said.push(`The step at ${minuteWords(raise.time_min)} raises the voltage.`);
  }
  if (unkeepable)
    said.push(
      'Some moments of the elution no voltage holds: the ramp leaves them out, see the minutes at risk.',
    );
  if (ramp.target_asked !== null && ramp.target_kept < ramp.target_asked)
    said.push(
      `The margin asked, ${chanceWords(ramp.target_asked)}, is out of reach with what is known: no voltage gives it at every moment, even alone. A voltage walk on this emitter narrows it most.`,
    );
  return said;
}

/** The ramp as CSV, one row for each voltage to enter. */
export function rampCsv(ramp: SupplyRamp): string {
  const rows = ramp.steps.map((step) =>
    [
      step.time_min.toFixed(2),
      step.supply_V,
      step.tip_V === null ? '' : Math.round(step.tip_V),
      step.probability.toFixed(3),
      `"${step.reason.replaceAll('"', '""')}"`,
    ].join(','),
  );
  return `${['time_min,supply_V,tip_V,probability,reason', ...rows].join('\n')}\n`;
}
