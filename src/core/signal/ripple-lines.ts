/**
 * How unlikely a line of one window's periodogram is by chance: its power against the scatter of the window and of what
 * stands around it in time, and against the power around it in frequency, so that wandering raises the threshold.
 * Breaks down where scatter changes within a window: then the window's own counts.
 */
import { quantileOfSorted } from '../numeric/robust.ts';
import { logChance } from './lomb-scargle.ts';

/** Of lines nearly as strong the slowest is told. */
const AS_STRONG = 0.85;
/** The power around a line: its median and upper tail over frequencies so many resolution steps away on both sides. */
const AROUND = { from: 2, to: 10 };
const TAIL_SHARE = 0.9;
/** Some twenty independent frequencies know that power to a fifth: white scatter itself is to be left alone. */
const AROUND_SOFT = 0.8;
/** The scatter usual around a window: over so many samples, by their middle, which is worth this share of their number. */
export const USUAL_SAMPLES = 321;
const USUAL_WORTH = 0.8;
/** A window scatters as usual within this factor of the variance: two standard errors of 80 samples' own. */
const USUAL_AGREES = 1.35;

/** What a window's lines are held against. */
export interface Noise {
  n: number;
  /** Squared deviations of the window, the line among them. */
  squares: number;
  /** Variance usual around the window. */
  usual: number;
}

/**
 * -ln of the chance that white scatter shows a power. The scatter of the window less the line is known by its own few
 * samples only; where it agrees with what is usual around it, the samples of the surroundings are taken in.
 */
function unlikely(power: number, { n, squares, usual }: Noise): number {
  const rest = (1 - power) * squares;
  const ratio = rest / ((n - 3) * usual);
  const more = Math.max(0, USUAL_SAMPLES * USUAL_WORTH - n);
  if (!(more > 0 && ratio > 1 / USUAL_AGREES && ratio < USUAL_AGREES)) return -logChance(power, n);
  const free = n - 3 + more;
  // A window that scatters more than its surroundings is held against its own scatter.
  return (free / 2) * Math.log1p((power * squares) / (rest + more * Math.max(usual, rest / (n - 3))));
}

/** The line that stands out most from the power around it; `steps` grid steps make one of resolution. */
export function strongest(
  power: Float64Array,
  from: number,
  noise: Noise,
  least: number,
  steps: number,
  colour?: Float64Array,
): { at: number; excess: number } | undefined {
  const white: { at: number; excess: number }[] = [];
  let most = 0;
  // What stands around a line is held against the colour of its own place.
  const plain = colour ? power.map((value, k) => Math.min(MOST_POWER, value / colour[k]!)) : power;
  for (let k = from; k < power.length; k++) {
    const usual = colour?.[k] ?? 1;
    // No surroundings make more of a line than this.
    if (power[k]! * noise.n < least * Math.min(1, usual)) continue;
    const excess = unlikely(power[k]!, noise) / (usual * around(plain, k, from, noise.n, steps));
    white.push({ at: k, excess });
    most = Math.max(most, excess);
  }
  const slowest = white.findIndex(({ excess }) => excess >= AS_STRONG * most);
  if (slowest < 0) return undefined;
  let best = slowest;
  while (white[best + 1]?.at === white[best]!.at + 1 && white[best + 1]!.excess > white[best]!.excess) best++;
  return { at: white[best]!.at, excess: most };
}

const MOST_POWER = 0.99;

/**
 * How many times white scatter's power a series shows at each frequency, by the middle over all its windows and smoothed over as
 * many frequencies as stand around a line: what its sampling and filtering do to it. A ripple in less than half of the windows does not count.
 */
export function colourOf(windows: readonly Float64Array[], n: number, steps: number): Float64Array {
  const count = windows[0]!.length;
  const column = new Float64Array(windows.length);
  const middle = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    for (let w = 0; w < windows.length; w++) column[w] = windows[w]![k]!;
    column.sort();
    middle[k] = logChance(quantileOfSorted(column, column.length, 0.5), n) / Math.log(0.5);
  }
  const half = Math.round((AROUND.to * steps) / 2);
  return middle.map((_, k) => {
    let sum = 0;
    let used = 0;
    for (let i = Math.max(0, k - half); i <= Math.min(count - 1, k + half); i++) {
      // Frequencies the times hide have no power.
      if (middle[i]! <= 0) continue;
      sum += middle[i]!;
      used++;
    }
    return used > 0 ? Math.max(LEAST_COLOUR, sum / used) : 1;
  });
}

/** Less than this is not believed: what is so quiet is so by chance or by a filter's zero, where no ripple passes either. Judgement. */
const LEAST_COLOUR = 0.1;

/** How many times the power around a line exceeds that of white scatter: by its middle and by its upper tail. */
function around(power: Float64Array, k: number, from: number, n: number, steps: number): number {
  const values: number[] = [];
  for (let off = Math.round(AROUND.from * steps); off <= AROUND.to * steps; off++) {
    if (k - off >= from) values.push(power[k - off]!);
    if (k + off < power.length) values.push(power[k + off]!);
  }
  if (values.length === 0) return 1;
  const sorted = Float64Array.from(values).sort();
  const times = (share: number): number =>
    logChance(quantileOfSorted(sorted, sorted.length, share), n) / Math.log(1 - share);
  return Math.max(1, AROUND_SOFT * Math.max(times(0.5), times(TAIL_SHARE)));
}
