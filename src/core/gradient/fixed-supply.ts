/**
 * One supply voltage for the whole elution: the one at which most draws hold at all its moments, and what the compromise
 * costs at each end. The wash is judged afterwards, at that voltage, on its own. 'No single voltage' is said only where
 * fewer than 20 % of the draws hold by voltage alone and one composition alone would hold twice as often: else it is not the
 * gradient but what is unknown of the emitter that leaves so few; too little flow is no fault of the voltage and has its own verdict.
 * The voltage stays under the ceiling (supply limit, discharge) of every moment of the run.
 */
import type { FixedFailure, FixedSupply } from './gradient-plan.ts';
import {
  bestVoltage,
  emptyStretch,
  extended,
  gridSize,
  holdingCounts,
  holdingShare,
  type Stretch,
  stretchOf,
} from './holding.ts';
import { medianTip } from './median-tip.ts';
import { chanceWords, type Moment, whenWords } from './moment.ts';
import { stateAt } from './supply-edges.ts';

export const NO_SINGLE_VOLTAGE_UNDER = 0.2;
/** The gradient is blamed only where it leaves less than this of what one composition alone would hold (judgement). */
const GRADIENT_BLAMED_UNDER = 0.5;
/** Below this chance at one composition the emitter is hardly known (judgement). */
const KNOWN_FROM = 0.6;
/** From here on the fixed voltage is called one that holds (judgement). */
const HOLDS_FROM = 0.8;
/** The minimum flow is blamed where it stops more draws than this. */
const FLOW_BLAMED_FROM = 0.9;
/** A cost at one end worth a sentence, in probability. */
const COST_WORTH_SAYING = 0.03;

export function fixedSupply(moments: readonly Moment[], supplyLimit_V: number): FixedSupply {
  const elution = moments.filter((m) => m.part === 'elution');
  const wash = moments.filter((m) => m.part === 'wash');
  const count = moments[0]!.edges.count;
  const whole = stretchOf(elution, count);
  const ceiling = Math.min(supplyLimit_V, ...moments.map((m) => m.ceiling_V));
  const capped = { ...whole, ceiling };
  const size = gridSize(supplyLimit_V);
  const supply =
    bestVoltage(holdingCounts(capped, size, true)) ??
    bestVoltage(holdingCounts(capped, size, false)) ??
    bestOnAverage(elution, size, ceiling);
  if (supply === undefined) return noVoltage(elution, ceiling);
  const probability = holdingShare(whole, supply, true);
  const voltage_probability = holdingShare(whole, supply, false);
  const flowing = whole.flows.reduce((sum, v) => sum + v, 0) / count;
  const failures = failuresAt(elution, supply);
  const alone = Math.min(ownBest(elution[0]!, size), ownBest(elution.at(-1)!, size));
  const verdict =
    1 - flowing > FLOW_BLAMED_FROM
      ? 'flow below the minimum'
      : voltage_probability < Math.min(NO_SINGLE_VOLTAGE_UNDER, GRADIENT_BLAMED_UNDER * alone)
        ? 'no single voltage'
        : probability >= HOLDS_FROM
          ? 'one voltage holds'
          : 'compromise';
  const fixed: FixedSupply = {
    verdict,
    supply_V: supply,
    probability,
    voltage_probability,
    undisturbed_probability: undisturbedShare(elution, whole, supply),
    tip_at_start_V: medianTip(elution[0]!, supply),
    tip_at_end_V: medianTip(elution.at(-1)!, supply),
    failures,
    sentences: [],
  };
  if (wash.length > 0) fixed.wash_probability = holdingShare(stretchOf(wash, count), supply, true);
  fixed.sentences = [...sentencesFor(fixed, supply, elution, size), ...ignoranceWords(alone)];
  return fixed;
}

/** The best that any voltage reaches at one moment alone. */
function ownBest(moment: Moment, size: number): number {
  const alone = stretchOf([moment], moment.edges.count);
  const best = bestVoltage(holdingCounts(alone, size, false));
  return best === undefined ? 0 : holdingShare(alone, best, false);
}

function ignoranceWords(alone: number): string[] {
  if (alone >= KNOWN_FROM) return [];
  return [
    `Even one composition alone is held in only ${chanceWords(alone)}: what is not known of this emitter costs most of the rest. Walk the voltage, note what you see, and plan again with it.`,
  ];
}

/** Formed at the first moment, then only kept: the lower edge of the later moments is where a standing cone falls back. */
function undisturbedShare(elution: readonly Moment[], whole: Stretch, supply: number): number {
  const low = elution[0]!.edges.steady.map((formed, i) =>
    elution.reduce((most, m) => Math.max(most, Math.min(m.edges.down[i]!, m.edges.steady[i]!)), formed),
  );
  return holdingShare({ ...whole, low }, supply, true);
}

function noVoltage(elution: readonly Moment[], ceiling: number): FixedSupply {
  const needed = Math.min(...elution.map((m) => Math.min(...m.edges.steady)));
  return {
    verdict: 'no voltage',
    supply_V: null,
    probability: 0,
    voltage_probability: 0,
    undisturbed_probability: 0,
    tip_at_start_V: null,
    tip_at_end_V: null,
    failures: [{ why: 'no window at all', where: 'throughout', share: 1 }],
    sentences: [
      needed > ceiling
        ? `No voltage can be advised: a steady spray would need at least ${Math.round(needed)} V at the supply, above what may be advised here (${Math.round(ceiling)} V). Look at the contact place, the wetted rim and the distance first.`
        : 'No voltage can be advised: the jet would tilt, split or discharge before it is steady.',
    ],
  };
}

function bestOnAverage(moments: readonly Moment[], size: number, ceiling: number): number | undefined {
  const sum = new Float64Array(size);
  for (const moment of moments) {
    const alone = { ...extended(emptyStretch(moment.edges.count), moment.edges, ceiling), ceiling };
    holdingCounts(alone, size, false).forEach((n, k) => {
      sum[k]! += n;
    });
  }
  return bestVoltage(sum);
}

/** Fails at this share of the moments: throughout. */
const THROUGHOUT = 0.9;

/** For each failing draw its commonest reason, and the third of the elution that holds most of those moments. */
function failuresAt(elution: readonly Moment[], supply: number): FixedFailure[] {
  const shares = new Map<string, FixedFailure>();
  const count = elution[0]!.edges.count;
  const third = (k: number) => Math.min(2, Math.floor((3 * k) / elution.length));
  for (let i = 0; i < count; i++) {
    const tally = new Map<FixedFailure['why'], number[]>();
    elution.forEach((moment, k) => {
      const why = failureOf(moment, i, supply);
      if (why === undefined) return;
      const thirds = tally.get(why) ?? [0, 0, 0];
      thirds[third(k)]! += 1;
      tally.set(why, thirds);
    });
    const total = (thirds: readonly number[]) => thirds.reduce((a, b) => a + b, 0);
    const worst = [...tally.entries()].sort((a, b) => total(b[1]) - total(a[1]))[0];
    if (worst === undefined) continue;
    const [why, thirds] = worst;
    const where =
      total(thirds) >= THROUGHOUT * elution.length
        ? 'throughout'
        : PLACES[thirds.indexOf(Math.max(...thirds))]!;
    const key = `${why}|${where}`;
    const found = shares.get(key) ?? { why, where, share: 0 };
    found.share += 1 / count;
    shares.set(key, found);
  }
  return [...shares.values()].sort((a, b) => b.share - a.share);
}
const PLACES = ['start', 'middle', 'end'] as const;

function failureOf({ edges }: Moment, i: number, supply: number): FixedFailure['why'] | undefined {
  const state = stateAt(edges, i, supply);
  if (state === 'steady cone-jet') return undefined;
  if (state === 'below minimum flow') return state;
  if (edges.steady[i]! >= edges.top[i]!) return 'no window at all';
  return state === 'no spray' || state === 'drips or pulsates'
    ? 'drips or pulsates'
    : 'tilted, several jets or discharge';
}

function sentencesFor(
  fixed: FixedSupply,
  supply: number,
  elution: readonly Moment[],
  size: number,
): string[] {
  const volts = `${supply} V`;
  const said: string[] = [];
  if (fixed.verdict === 'flow below the minimum')
    said.push(
      'The flow is below the minimum for a steady cone-jet somewhere in the elution, whatever the voltage: raise the flow or use a liquid that conducts better.',
    );
  else if (fixed.verdict === 'no single voltage')
    said.push(
      `No single voltage: even the best, ${volts} at the supply, keeps the spray steady through the whole elution in only ${chanceWords(fixed.voltage_probability)} of what is thought possible.`,
    );
  else
    said.push(
      `${volts} at the supply is the best single voltage: ${chanceWords(fixed.probability)} that the spray is steady through the whole elution${fixed.voltage_probability - fixed.probability > COST_WORTH_SAYING ? ` (${chanceWords(fixed.voltage_probability)} if the flow is enough)` : ''}.`,
    );
  if (fixed.undisturbed_probability - fixed.probability > COST_WORTH_SAYING)
    said.push(
      `If nothing disturbs the spray once it stands, ${chanceWords(fixed.undisturbed_probability)}: a standing cone survives below the voltage that forms it.`,
    );
  for (const [moment, end] of [
    [elution[0]!, 'start'],
    [elution.at(-1)!, 'end'],
  ] as const) {
    const alone = extended(emptyStretch(moment.edges.count), moment.edges, moment.ceiling_V);
    const best = bestVoltage(holdingCounts(alone, size, false));
    if (best === undefined) continue;
    const cost = holdingShare(alone, best, false) - holdingShare(alone, supply, false);
    if (cost > COST_WORTH_SAYING)
      said.push(
        `The compromise costs at the ${end} of the elution, ${whenWords(moment)}: ${chanceWords(holdingShare(alone, supply, false))} steady there instead of ${chanceWords(holdingShare(alone, best, false))} at ${best} V, the best for that moment alone.`,
      );
  }
  for (const failure of fixed.failures.filter((f) => f.share > COST_WORTH_SAYING))
    said.push(`${chanceWords(failure.share)}: ${FAILURE_WORDS[failure.why](whereWords(failure.where))}.`);
  if (fixed.wash_probability !== undefined)
    said.push(
      `The wash is judged apart: ${chanceWords(fixed.wash_probability)} steady through it at ${volts}. An unsteady wash costs no analyte, but droplets may soil the inlet (judgement).`,
    );
  return said;
}

function whereWords(where: FixedFailure['where']): string {
  return where === 'throughout'
    ? 'throughout the elution'
    : `${where === 'middle' ? 'in' : 'at'} the ${where} of the elution`;
}

const FAILURE_WORDS: Record<FixedFailure['why'], (where: string) => string> = {
  'drips or pulsates': (where) => `too low for this emitter, drips or pulsates ${where}`,
  'tilted, several jets or discharge': (where) => `too high for this emitter, tilts or splits ${where}`,
  'below minimum flow': (where) => `flow below the minimum ${where}; voltage cannot mend it`,
  'no window at all': (where) =>
    `no steady voltage exists ${where}: the jet would tilt or split before it is steady`,
};
