/**
 * Falls that two interleaved series share, each with the rise that undoes it, by the jumps their ions have in common. The four jumps of a
 * pair, down and up in both, are judged as one: each counts by its own scatter, so that a series that knows little at one
 * edge neither makes nor breaks it, and one that denies lowers the common size. Together they need to stand out only half as far each as one
 * would alone. An edge that nothing undoes has to stand out alone.
 * Chance: some ten million pairs of edges in a day of scans every 1.3 s. Normal scatter shows five false pairs a day at 5.3 where it is as wide as
 * taken; where a jump's own error, which is counted twice, is a third to a half of its scatter, 0.6 (computed).
 * Edges slower than two samples go unseen; of falls that overlap one is told.
 */
import { median } from '../numeric/robust.ts';
import { type JointSeries, type Jumps, jumps, type Ringing } from './edge-jumps.ts';
import {
  type Alike,
  alike,
  type Edge,
  eachMoment,
  type JointFall,
  type LoneJump,
  loneJumps,
  withoutRings,
} from './edge-match.ts';

export interface PairOptions extends Alike {
  least_log: number;
  /** Common size over its scatter: of both edges `longest_s` apart together, of each of them, and of one that nothing undoes. */
  pair: number;
  edge: number;
  lone: number;
  longest_s: number;
  ring: Ringing;
}

/** An edge that would be told alone is undone only by one that stands out so far: chance shows less in three minutes. */
const UNDOES = 3.1;
/** Of rises that undo a fall nearly as well the first. */
const NEARLY = 0.9;
const LEAST_SAMPLES = 24;

interface Pair extends JointFall {
  /** How far both edges together stand out over what is asked of them. */
  both: number;
}

export function jointPairs(
  one: JointSeries,
  other: JointSeries,
  options: PairOptions,
): { falls: JointFall[]; lone: LoneJump[] } {
  if (one.log.length < LEAST_SAMPLES || other.log.length < LEAST_SAMPLES) return { falls: [], lone: [] };
  const edges = commonEdges(jumps(one, options.ring), jumps(other, options.ring), options);
  const found: Pair[] = [];
  edges.forEach((fall, i) => {
    const pair = fall.size < 0 && undone(fall, edges.slice(i + 1), one.time_s, options);
    if (pair) found.push(pair);
  });
  found.sort((a, b) => b.both - a.both);
  const kept: Pair[] = [];
  for (const pair of found) {
    if (!kept.some((known) => known.first < pair.past && pair.first < known.past)) kept.push(pair);
  }
  const ends = kept.flatMap(({ first, past }) => [first, past]);
  const alone = edges.filter(
    ({ size, sigmas }) => sigmas >= options.lone && Math.abs(size) >= options.least_log,
  );
  const isEnd = (at: number): boolean => ends.some((end) => Math.abs(end - at) <= 1);
  return {
    falls: kept.sort((a, b) => a.first - b.first).map(({ both, ...fall }) => fall),
    lone: loneJumps(alone, isEnd, one.time_s, options.longest_s),
  };
}

/** For a length, the common size as a log of a fall that half of the places would show, by the middle scatter of both series' jumps. */
export function leastPair(
  one: JointSeries,
  other: JointSeries,
  options: PairOptions,
): (length_s: number) => number {
  const [a, b] = [one, other].map((series) => median(jumps(series, options.ring).sigma)) as [number, number];
  const { sigma } = weighted(0, a, 0, b);
  return (length_s) => Math.max(options.least_log, (neededFor(length_s, options) * sigma) / Math.SQRT2);
}

/** The fall with the rise among `later` edges that undoes it. */
function undone(
  fall: Edge,
  later: readonly Edge[],
  time_s: ArrayLike<number>,
  options: PairOptions,
): Pair | undefined {
  const pairs: Pair[] = [];
  for (const rise of later) {
    if (time_s[rise.at]! - time_s[fall.at]! > options.longest_s) break;
    if (rise.size < 0 || !alike(rise.size, -fall.size, Math.hypot(rise.sigma, fall.sigma), options)) continue;
    if (fall.sigmas >= options.lone && rise.sigmas < UNDOES) continue;
    const { size, sigma: apart } = weighted(-fall.size, fall.sigma, rise.size, rise.sigma);
    const sigma = rise.at - fall.at <= options.ring.samples ? NEAR_SCATTER * apart : apart;
    const needed = neededFor(time_s[rise.at]! - time_s[fall.at]!, options);
    if (size < options.least_log || size < needed * sigma) continue;
    pairs.push({
      first: fall.at,
      past: rise.at,
      size_log: size,
      sigmas: Math.min(fall.sigmas, rise.sigmas),
      both: size / sigma / needed,
    });
  }
  const most = Math.max(...pairs.map(({ both }) => both));
  return pairs.find(({ both }) => both >= NEARLY * most);
}

/** A long fall has more rises to choose from than a short one: each length by its logarithm has the same share of false pairs. */
function neededFor(length_s: number, { pair, longest_s }: PairOptions): number {
  const share = Math.max(SHORTEST_S, length_s) / longest_s;
  return Math.sqrt(pair * pair + 2 * Math.log(share));
}

/** Shorter falls are asked for as much as these. Judgement. */
const SHORTEST_S = 10;
/** Scatter of the size where both edges share scans: their jumps then scatter against each other (-0.5 two samples apart, computed). */
const NEAR_SCATTER = 1.25;

/** For each sample of the first series the jump that both share in that moment, where it stands out by `edge`. */
function commonEdges(one: Jumps, other: Jumps, options: PairOptions): Edge[] {
  const edges: Edge[] = [];
  eachMoment(one, other, (i, first, past) => {
    let best: Edge | undefined;
    for (let k = first; k < past; k++) {
      const edge = shared(one, i, other, k, options);
      if (edge && (!best || edge.sigmas > best.sigmas)) best = edge;
    }
    if (best && best.sigmas >= options.edge) edges.push(best);
  });
  return withoutRings(edges, options.ring);
}

/** A level on a front says nothing of the moment: the other answers alone. */
function shared(one: Jumps, i: number, other: Jumps, k: number, options: PairOptions): Edge | undefined {
  const a = one.size[i]!;
  const b = other.size[k]!;
  const sa = one.sigma[i]!;
  const sb = Math.abs(b) < other.front[k]! ? Number.POSITIVE_INFINITY : other.sigma[k]!;
  if (Math.abs(a) < one.front[i]!) return undefined;
  const scatter = Math.hypot(sa, sb);
  if (Math.abs(a - b) >= options.within * scatter && !alike(a, b, scatter, options)) return undefined;
  const { size, sigma } = weighted(a, sa, b, sb);
  return { at: i, size, sigma, sigmas: Math.abs(size) / sigma, unlike: unlike(a, b) };
}

function unlike(a: number, b: number): number {
  return Math.sign(a) === Math.sign(b) ? Math.max(a / b, b / a) : Number.POSITIVE_INFINITY;
}

function weighted(a: number, sa: number, b: number, sb: number): { size: number; sigma: number } {
  const wa = 1 / (sa * sa);
  const wb = 1 / (sb * sb);
  return { size: (a * wa + b * wb) / (wa + wb), sigma: 1 / Math.sqrt(wa + wb) };
}
