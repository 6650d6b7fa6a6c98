/**
 * What reaches every bench of the tuning set from outside: a small hum, or mains with harmonics or a pump large enough to be a regime of its
 * own. A pump swings evenly, or refills sharply: the flow falls within a moment and comes back slowly. Sizes are judgement.
 */
import type { Scene } from './play.ts';
import type { TrueRegime } from './proof-trace.ts';

export interface Hum {
  amplitude_A: number;
  frequency_Hz: number;
  at(t: number): number;
}

/** `level_A`: mean of what sprays beneath it. */
export function humOf(regime: TrueRegime, pump: boolean, scene: Scene, level_A: number): Hum {
  const { single_A, random, between } = scene;
  const own = regime === 'mains or pump';
  const draw = random.unit();
  const base = own
    ? Math.max(level_A, 25e-9) * between(0.08, 0.4)
    : single_A * between(0.002, level_A > 10e-9 ? 0.06 : 0.03);
  const amplitude_A = own || draw < 0.4 ? base : 0;
  // A pump speaks through a spray only.
  const slow = own ? pump : level_A > 10e-9 && random.unit() < 0.5;
  const frequency_Hz = slow ? between(0.5, 4) : random.unit() < 0.5 ? 50 : 60;
  if (amplitude_A === 0) return { amplitude_A, frequency_Hz, at: () => 0 };
  const even = swing(frequency_Hz, scene);
  const stroke = refills(frequency_Hz, scene);
  const shape = pump && random.unit() < 0.5 ? stroke : even;
  return { amplitude_A, frequency_Hz, at: (t) => amplitude_A * shape(t) };
}

function swing(f: number, { random }: Scene): (t: number) => number {
  const [second, third] = [random.between(0, 0.4), random.between(0, 0.4)];
  const phase = 2 * Math.PI * random.unit();
  return (t) => {
    const w = 2 * Math.PI * f * t + phase;
    return Math.sin(w) + second * Math.sin(2 * w + phase) + third * Math.sin(3 * w);
  };
}

/** Down within the refill, back as the line's compliance fills again; the period is the screw's, to a third of a percent. */
function refills(f: number, { random }: Scene): (t: number) => number {
  const refill = random.between(0.04, 0.2);
  const fills = random.between(0.1, 0.35);
  const scatter = 0.003 * random.normal();
  const phase = random.unit();
  return (t) => {
    const at = (((t * f * (1 + scatter) + phase) % 1) + 1) % 1;
    return at < refill ? 0.6 - (2.2 * at) / refill : 0.6 - 2.2 * Math.exp((refill - at) / fills);
  };
}
