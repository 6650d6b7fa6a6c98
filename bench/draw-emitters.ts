import type { MeniscusInput } from '../src/core/meniscus/index.ts';
import { randomStream } from '../src/core/random.ts';
import { DEG } from '../src/core/units.ts';

/** Seeded emitters: rim/bore 1.02 to 17, half-angle 0 to 30°, distance 20 to 2000 radii, pressure as given. */
export function drawEmitters(count: number, seed: number, low = -1.2, high = 1.4): MeniscusInput[] {
  const random = randomStream(seed, 'emitters');
  const logBetween = (from: number, to: number) => from * (to / from) ** random.unit();
  return Array.from({ length: count }, () => {
    const rimRadius = logBetween(1.02, 17);
    const distance = logBetween(20, 2000);
    return {
      rimRadius,
      taperHalfAngle: random.between(0, 30) * DEG,
      shankRadius: rimRadius * logBetween(1.5, 12),
      length: Math.max(3 * distance, 100),
      distance,
      hold: { kind: 'pressure', pressure: random.between(low, high) },
    };
  });
}
