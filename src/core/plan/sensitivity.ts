/**
 * Which unknown limits an answer most: the first-order share of the variance of ln(answer), Var(E[ln y | x])/Var(ln y), from
 * common draws by binned means (Sobol 1993; Plischke 2010, from memory). Shares of independent unknowns add up to at most 1; the
 * rest is interaction. A share under the noise of the bins, about (bins − 1)/draws, is left out.
 */
import type { WindowDraws } from '../window/draws.ts';
import { type Draws, UNKNOWNS, type Unknown } from '../window/index.ts';

export interface Sensitivity {
  answer: string;
  /** Largest share first. */
  limited_by: { unknown: string; share: number; sentence: string }[];
}

const BINS = 20;
const LEAST_SHARE = 0.03;

interface Spread {
  ln: Float64Array;
  mean: number;
  total: number;
}

function spreadOf(answer: Float64Array): Spread {
  const ln = answer.map(Math.log);
  const mean = ln.reduce((sum, x) => sum + x, 0) / ln.length;
  const total = ln.reduce((sum, x) => sum + (x - mean) ** 2, 0) / ln.length;
  return { ln, mean, total };
}

function orderOf(unknown: Float64Array): number[] {
  return Array.from(unknown, (_, i) => i).sort((a, b) => unknown[a]! - unknown[b]!);
}

/** First-order share of the variance of ln(answer) that the unknown of this order carries. */
function shareOf({ ln, mean, total }: Spread, order: readonly number[]): number {
  const n = ln.length;
  if (!(total > 0) || !Number.isFinite(total)) return 0;
  let explained = 0;
  for (let b = 0; b < BINS; b++) {
    const members = order.slice(Math.floor((b * n) / BINS), Math.floor(((b + 1) * n) / BINS));
    if (members.length === 0) continue;
    const own = members.reduce((sum, i) => sum + ln[i]!, 0) / members.length;
    explained += (members.length / n) * (own - mean) ** 2;
  }
  // Noise alone would explain (bins − 1)/n of the variance.
  const noise = (BINS - 1) / n;
  return Math.max(0, (explained / total - noise) / (1 - noise));
}

export function sensitivities(draws: Draws, window: WindowDraws): Sensitivity[] {
  const answers: [string, Float64Array][] = [
    ['onset', window.onset_V],
    ['start of the steady spray', window.steady_from_V],
    ['edge of several jets', window.several_from_V],
    ['current', window.current_A],
    ['minimum flow', window.minimum_flow_m3_s],
  ];
  // Each unknown is sorted once for all answers: sorting is what this costs.
  const orders = UNKNOWNS.map((unknown) => ({ unknown, order: orderOf(draws[unknown]) }));
  return answers
    .map(([answer, values]) => ({ answer, values, spread: spreadOf(values) }))
    .map(({ answer, values, spread }) => ({
      answer,
      limited_by: orders
        .map(({ unknown, order }) => ({ unknown, share: shareOf(spread, order) }))
        .filter(({ share }) => share >= LEAST_SHARE)
        .sort((a, b) => b.share - a.share)
        .map(({ unknown, share }) => ({
          unknown,
          share,
          sentence: narrowed(answer, values, unknown, share),
        })),
    }));
}

function narrowed(answer: string, values: Float64Array, unknown: Unknown, share: number): string {
  const sorted = Float64Array.from(values).sort();
  const factor = Math.sqrt(
    sorted[Math.floor(0.9 * sorted.length)]! / sorted[Math.floor(0.1 * sorted.length)]!,
  );
  const known = factor ** Math.sqrt(1 - share);
  return `${MEASURE[unknown]} would narrow the ${answer} from a factor ${factor.toFixed(2)} to ${known.toFixed(2)} either way.`;
}

/** The cheapest way to know each unknown. */
const MEASURE: Record<Unknown, string> = {
  contact: 'Seeing which rim is wet (microscope, or the onset by a slow voltage walk)',
  pressure: 'Knowing the pressure at the meniscus (its height without voltage)',
  coupling: 'Finding the onset once before this inlet (a slow voltage walk)',
  geometry: 'Finding the onset of this emitter once (a slow voltage walk)',
  taper: 'Measuring the outer half-angle (microscope)',
  'surface tension': 'Measuring the surface tension',
  conductivity: 'Measuring the conductivity (50 µL cell)',
  flow: 'Weighing or timing the flow',
  steady: 'Walking the voltage to the start of the steady spray',
  several: 'Walking the voltage up to the second jet, within its cautions,',
  tilt: 'Watching where the jet tilts',
  return: 'Walking the voltage down once',
  current: 'Reading the spray current once in a steady spray',
  'minimum flow': 'Lowering the flow until the current pulsates',
  discharge: 'Noting where a discharge began',
};
