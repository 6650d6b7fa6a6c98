/**
 * The unknowns of one imagined emitter as independent standard normals, so that every prior is one function of one number and
 * calibration can move them all alike. Draws are stratified: each unknown fills each of its equal shares once.
 */
import { normalQuantile } from '../numeric/normal.ts';
import { randomStream } from '../random.ts';

export const UNKNOWNS = [
  'contact',
  'pressure',
  'coupling',
  'geometry',
  'taper',
  'surface tension',
  'conductivity',
  'flow',
  'steady',
  'several',
  'tilt',
  'return',
  'current',
  'minimum flow',
  'discharge',
] as const;
export type Unknown = (typeof UNKNOWNS)[number];

/** One standard normal for each draw and unknown. */
export type Draws = Readonly<Record<Unknown, Float64Array>>;

export function priorDraws(count: number, seed: number): Draws {
  return Object.fromEntries(UNKNOWNS.map((name) => [name, stratified(count, seed, name)])) as Draws;
}

function stratified(count: number, seed: number, name: Unknown): Float64Array {
  const random = randomStream(seed, `unknown ${name}`);
  const z = Float64Array.from({ length: count }, (_, k) => normalQuantile((k + random.unit()) / count));
  for (let k = count - 1; k > 0; k--) {
    const j = random.index(k + 1);
    [z[k], z[j]] = [z[j]!, z[k]!];
  }
  return z;
}
