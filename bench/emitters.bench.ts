/**
 * Onset of seeded random emitters by the numerical meniscus: rim/bore 1.02 to 17, half-angle 0 to 30°, distance 20 to 2000
 * radii, pressure -1.2 to 1.4, then a tenth as many at 1.5 to 2. Prints how each was answered, the time of one in one thread, and how far the
 * finer mesh moves the onset. EMITTERS: how many; FROM: the first of them, so that a long run can be cut into parts.
 */
import { type MeniscusInput, meniscusOnset } from '../src/core/meniscus/index.ts';
import { drawEmitters } from './draw-emitters.ts';
import { median } from './timing.ts';

const SEED = 2024;
const FROM = Number(process.env.FROM ?? 0);
const COUNT = Number(process.env.EMITTERS ?? 1000);
const SOFT = Math.ceil(COUNT / 10);
/** Agreement asked of the two meshes. */
const AGREEMENT = 1e-3;

report('pressure -1.2 to 1.4', drawEmitters(FROM + COUNT, SEED).slice(FROM));
report('pressure 1.5 to 2', drawEmitters(SOFT, SEED + 1, 1.5, 2));

function report(name: string, inputs: readonly MeniscusInput[]): void {
  const times: number[] = [];
  const kinds = new Map<string, number>([
    ['onset', 0],
    ['no equilibrium', 0],
    ['solver failed', 0],
  ]);
  const apart: { by: number; input: MeniscusInput }[] = [];
  let differently = 0;
  for (const input of inputs) {
    const start = performance.now();
    const usual = meniscusOnset(input);
    times.push(performance.now() - start);
    kinds.set(usual.kind, kinds.get(usual.kind)! + 1);
    const fine = meniscusOnset({ ...input, mesh: 'fine' });
    if (usual.kind === 'onset' && fine.kind === 'onset')
      apart.push({ by: Math.abs(usual.V_star / fine.V_star - 1), input });
    else if (usual.kind !== fine.kind) differently++;
  }
  times.sort((a, b) => a - b);
  apart.sort((a, b) => a.by - b.by);
  const worst = apart.at(-1);
  const say = (line: string) => process.stdout.write(`${line}\n`);
  const share = (value: number | undefined) => `${(100 * (value ?? Number.NaN)).toFixed(4)} %`;
  say(
    `${name}, ${inputs.length} emitters, seed ${SEED}: ${[...kinds].map(([kind, count]) => `${count} ${kind}`).join(', ')}`,
  );
  say(
    `  one thread: median ${median(times).toFixed(0)} ms, 95 % ${times[Math.floor(times.length * 0.95)]?.toFixed(0)} ms, worst ${times.at(-1)?.toFixed(0)} ms`,
  );
  say(
    `  against the finer mesh: median ${share(apart[Math.floor(apart.length / 2)]?.by)}, worst ${share(worst?.by)}, ${apart.filter((a) => a.by > AGREEMENT).length} of ${apart.length} beyond ${share(AGREEMENT)}, answered in another kind ${differently}`,
  );
  if (worst !== undefined) say(`  worst: ${JSON.stringify(worst.input)}`);
}
