/**
 * One direction of a voltage walk judged: onset, edges of the steady window, calmest step, the number of jets above it. An edge lies
 * between two steps; nothing finer is told.
 */
import { type Edge, edge, edgeText } from '../walk.ts';
import type { CurrentReading } from './current-reading.ts';
import { currentText, regimeLabel, shareText } from './labels.ts';
import { longestRun } from './longest-run.ts';
import type { Regime } from './regimes.ts';
import { calm, jetCount, type SingleJet, singleJetRun, tellJets } from './staircase.ts';
import type { CurrentStep } from './voltage-step.ts';

export interface CurrentSweep {
  direction: 'up' | 'down';
  steps: CurrentStep[];
  /** Where the spray begins (up) or ends (down). */
  onset: Edge | null;
  lower: Edge | null;
  upper: Edge | null;
  best: BestStep | null;
  sentences: string[];
}

/** The calmest steady step, with the steps that are as calm and the range of its current. */
export interface BestStep {
  voltage_V: number;
  voltage_low_V: number;
  voltage_high_V: number;
  level_nA: number;
  level_low_nA: number;
  level_high_nA: number;
  scatter: number;
}

const NO_SPRAY: readonly Regime[] = ['no spray', 'leak only'];
/** Steps within this factor of the least scatter are as calm. */
const AS_CALM = 1.2;

export function judgedSweep(
  direction: 'up' | 'down',
  steps: CurrentStep[],
  reading: CurrentReading,
): CurrentSweep {
  const known = [...steps].sort((a, b) => a.voltage_V - b.voltage_V);
  // With the person's own steady reading the level itself has told one from several jets.
  const told = reading.comparison?.calibrated === true;
  const window = told ? longestRun(known, ({ regime }) => regime === 'steady') : singleJetRun(known);
  const inside = window ? known.slice(window.first, window.past) : [];
  const one = window && !told ? tellJets(known, window) : undefined;
  const lit = known.findIndex((s) => !NO_SPRAY.includes(s.regime));
  const onset = lit < 0 ? null : edge(known[lit - 1], known[lit]);
  const lower = window ? edge(known[window.first - 1], known[window.first]) : null;
  const upper = window ? edge(known[window.past - 1], known[window.past]) : null;
  const best = inside.length > 0 ? bestOf(inside) : null;
  const name = direction === 'up' ? 'Going up' : 'Going down';
  const sentences: string[] = [];
  if (onset === null) sentences.push(`${name}: no step sprayed.`);
  else sentences.push(`${name}: the spray ${direction === 'up' ? 'begins' : 'ends'} ${edgeText(onset)}.`);
  if (!window || !best) sentences.push(`${name}: no step was steady.`);
  else {
    const word = reading.decidability.decides ? 'steady' : 'steady as far as seen';
    sentences.push(
      `${name}: ${word} from ${edgeText(lower!)} to ${edgeText(upper!)}; calmest at ${best.voltage_V} V (${currentText(best.level_nA)}, scatter ${shareText(best.scatter)})${alikeText(best)}.`,
    );
    const past = known[window.past];
    if (past)
      sentences.push(
        `${name}: above it ${regimeLabel(past.regime, reading.decidability)} at ${past.voltage_V} V${one ? jetsText(known.slice(window.past), one) : ''}.`,
      );
  }
  return { direction, steps, onset, lower, upper, best, sentences };
}

/** The calmest; among steps as calm the one nearest the middle of the window. */
function bestOf(steady: readonly CurrentStep[]): BestStep {
  const least = Math.min(...steady.map((s) => s.scatter));
  const middle = (steady[0]!.voltage_V + steady.at(-1)!.voltage_V) / 2;
  const alike = steady.filter((s) => s.scatter <= AS_CALM * least + 1e-4);
  const best = alike.reduce((a, b) =>
    Math.abs(b.voltage_V - middle) < Math.abs(a.voltage_V - middle) ? b : a,
  );
  return {
    voltage_V: best.voltage_V,
    voltage_low_V: Math.min(...alike.map((s) => s.voltage_V)),
    voltage_high_V: Math.max(...alike.map((s) => s.voltage_V)),
    level_nA: best.level_nA.value,
    level_low_nA: best.level_nA.low,
    level_high_nA: best.level_nA.high,
    scatter: best.scatter,
  };
}

function alikeText({ voltage_low_V, voltage_high_V }: BestStep): string {
  return voltage_low_V === voltage_high_V ? '' : `, as calm from ${voltage_low_V} to ${voltage_high_V} V`;
}

/** Calm currents above the window against what one jet would carry there. */
function jetsText(above: readonly CurrentStep[], one: SingleJet): string {
  const parts = above.filter(calm).map((step) => {
    const { ratio, jets } = jetCount(step, one);
    const times = `${Number(ratio.value.toPrecision(3))} times what one jet would carry at ${step.voltage_V} V`;
    return jets === null
      ? `${times}, by no square root of a number of jets`
      : `${times}: ${jets} jets (the square root of ${jets} is ${Math.sqrt(jets).toFixed(2)})`;
  });
  return parts.length === 0 ? '' : `; ${parts.join('; ')}`;
}
