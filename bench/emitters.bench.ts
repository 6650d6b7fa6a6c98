/**
 * Onset of seeded random emitters by the numerical meniscus: rim/bore 1.02 to 17, half-angle 0 to 30°, distance 20 to 2000
 * radii, pressure -1.2 to 1.4. Prints how many were answered, and the time of each in one thread.
 */
import { meniscusOnset } from '../src/core/meniscus/index.ts';
import { randomStream } from '../src/core/random.ts';
import { DEG } from '../src/core/units.ts';
import { median } from './timing.ts';

const COUNT = Number(process.env.EMITTERS ?? 1000);
const random = randomStream(2024, 'emitters');
const logBetween = (low: number, high: number) => low * (high / low) ** random.unit();
const times: number[] = [];
const kinds = new Map<string, number>();
for (let i = 0; i < COUNT; i++) {
  const rimRadius = logBetween(1.02, 17);
  const distance = logBetween(20, 2000);
  const start = performance.now();
  const { kind } = meniscusOnset({
    rimRadius,
    taperHalfAngle: random.between(0, 30) * DEG,
    shankRadius: rimRadius * logBetween(1.5, 12),
    length: Math.max(3 * distance, 100),
    distance,
    hold: { kind: 'pressure', pressure: random.between(-1.2, 1.4) },
  });
  times.push(performance.now() - start);
  kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
}
times.sort((a, b) => a - b);
process.stdout.write(
  `${COUNT} emitters, seed 2024: ${[...kinds].map(([kind, count]) => `${count} ${kind}`).join(', ')}\n`,
);
process.stdout.write(
  `  median ${median(times).toFixed(0)} ms, 95 % ${times[Math.floor(COUNT * 0.95)]?.toFixed(0)} ms, worst ${times.at(-1)?.toFixed(0)} ms\n`,
);
