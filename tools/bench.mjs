// `npm run bench [-- NAME]`: the seeded benchmarks of bench/, each prints its own figures.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { build, install, main, root, run, StepFailed } from './steps.mjs';

await main(() => {
  install();
  build();
  const all = readdirSync(join(root, 'bench')).filter((name) => name.endsWith('.bench.ts'));
  const wanted = process.argv[2];
  const chosen = all.filter((name) => wanted === undefined || name === `${wanted}.bench.ts`);
  if (chosen.length === 0)
    throw new StepFailed(
      `unknown benchmark: ${wanted}; expected one of ${all.map((name) => name.replace('.bench.ts', '')).join(', ')}`,
    );
  for (const name of chosen) {
    process.stdout.write(`\n--- ${name.replace('.bench.ts', '')}\n`);
    if (run(['--import', 'tsx', join(root, 'bench', name)]) !== 0)
      throw new StepFailed(`benchmark failed: ${name}`);
  }
});
