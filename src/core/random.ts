/**
 * Named, seeded random streams: the same seed and name give the same numbers on every machine, and two names under one
 * seed do not share a sequence, so that one more draw in one place shifts nothing elsewhere.
 * Generator: xoshiro128** (Blackman and Vigna, 2021, ACM Trans. Math. Softw. 47(4):36, from memory), its state filled
 * by a 32-bit multiply-xorshift mixer from the seed and the FNV-1a hash of the name. Not for secrets.
 */
export interface RandomStream {
  /** Uniform in [0, 1), 32 bits. */
  unit(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Whole number in [0, count). */
  index(count: number): number;
  /** Standard normal. */
  normal(): number;
  /** Log-normal factor with median 1 and standard deviation `sd` of its logarithm. */
  factor(sd: number): number;
}

/** `seed` is taken modulo 2^32; any whole number is fine. */
export function randomStream(seed: number, name: string): RandomStream {
  const mix = mixer((seed >>> 0) ^ hash(name));
  const next = xoshiro128(mix(), mix(), mix(), mix() | 1); // never the all-zero state
  const unit = (): number => next() / 4294967296;
  // Box and Muller: one of the pair is dropped, so that each call uses exactly two draws.
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit());
  return {
    unit,
    between: (low, high) => low + (high - low) * unit(),
    index: (count) => Math.floor(unit() * count),
    normal,
    factor: (sd) => Math.exp(sd * normal()),
  };
}

/** The bare generator: 32-bit whole numbers from a state that must not be all zero. */
export function xoshiro128(s0: number, s1: number, s2: number, s3: number): () => number {
  let a = s0;
  let b = s1;
  let c = s2;
  let d = s3;
  return () => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotate(d, 11);
    return result;
  };
}

function rotate(x: number, by: number): number {
  return (x << by) | (x >>> (32 - by));
}

function hash(name: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) h = Math.imul(h ^ name.charCodeAt(i), 0x01000193);
  return h >>> 0;
}

function mixer(start: number): () => number {
  let state = start | 0;
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let z = state ^ (state >>> 16);
    z = Math.imul(z, 0x21f0aaad);
    z ^= z >>> 15;
    z = Math.imul(z, 0x735a2d97);
    return z ^ (z >>> 15);
  };
}
