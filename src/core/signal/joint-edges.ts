/**
 * Sharp falls that two interleaved series share, each with the rise that undoes it, and jumps that nothing undoes: an edge is a jump between two
 * samples beyond the slope around it, it counts only where the other series jumps alike in the same moment. For levels
 * full of elution, whose slopes are steep and differ from series to series, but take several samples.
 * Edges slower than two samples, and falls that one series does not show, go unseen.
 */
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

export interface JointOptions extends Alike {
  least_log: number;
  /** Both series together (root mean square), and each by itself. */
  sigmas: number;
  each: number;
  longest_s: number;
  ring: Ringing;
}

const LEAST_SAMPLES = 24;

export function jointFalls(
  one: JointSeries,
  other: JointSeries,
  options: JointOptions,
): { falls: JointFall[]; lone: LoneJump[] } {
  if (one.log.length < LEAST_SAMPLES || other.log.length < LEAST_SAMPLES) return { falls: [], lone: [] };
  const edges = sharedEdges(jumps(one, options.ring), jumps(other, options.ring), options);
  const falls: JointFall[] = [];
  let free = 0;
  for (let i = 0; i < edges.length; i++) {
    const fall = edges[i]!;
    if (fall.size >= 0 || fall.at < free) continue;
    const rise = edges
      .slice(i + 1)
      .find(
        (edge) =>
          edge.size > 0 &&
          edge.at > fall.at &&
          alike(edge.size, -fall.size, Math.hypot(edge.sigma, fall.sigma), options),
      );
    if (!rise || one.time_s[rise.at]! - one.time_s[fall.at]! > options.longest_s) continue;
    falls.push({
      first: fall.at,
      past: rise.at,
      size_log: (rise.size - fall.size) / 2,
      sigmas: Math.min(fall.sigmas, rise.sigmas),
    });
    free = rise.at;
  }
  const paired = new Set(falls.flatMap(({ first, past }) => [first, past]));
  return { falls, lone: loneJumps(edges, (at) => paired.has(at), one.time_s, options.longest_s) };
}

/** Edges of the first series that the other has in the same moment: within its own interval of it. */
function sharedEdges(one: Jumps, other: Jumps, options: JointOptions): Edge[] {
  const edges: Edge[] = [];
  eachMoment(one, other, (i, first, past) => {
    if (first === past) return;
    let best = first;
    for (let k = first; k < past; k++) {
      if (Math.abs(other.size[k]!) > Math.abs(other.size[best]!)) best = k;
    }
    const a = one.size[i]!;
    const b = other.size[best]!;
    if (Math.abs(a) < one.front[i]! || Math.abs(b) < other.front[best]!) return;
    const sa = one.sigma[i]!;
    const sb = other.sigma[best]!;
    const za = Math.abs(a) / sa;
    const zb = Math.abs(b) / sb;
    if (!alike(a, b, Math.hypot(sa, sb), options) || Math.min(za, zb) < options.each) return;
    const sigmas = Math.hypot(za, zb) / Math.SQRT2;
    const weights = 1 / (sa * sa) + 1 / (sb * sb);
    const size = (a / (sa * sa) + b / (sb * sb)) / weights;
    if (sigmas < options.sigmas || Math.abs(size) < options.least_log) return;
    edges.push({
      at: i,
      size,
      sigma: 1 / Math.sqrt(weights),
      sigmas,
      unlike: Math.max(a / b, b / a),
    });
  });
  return withoutRings(edges, options.ring);
}
