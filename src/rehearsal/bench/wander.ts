/** A slow random walk that is pulled back to zero (Ornstein and Uhlenbeck), stepped by ticks much shorter than its memory. */
import type { RandomStream } from '../../core/random.ts';

export function wander(sd: number, memory_s: number, random: RandomStream): (dt: number) => number {
  let value = 0;
  return (dt) => {
    value += (-value * dt) / memory_s + sd * Math.sqrt((2 * dt) / memory_s) * random.normal();
    return value;
  };
}
