// `npm test`: set-up, then types, lint, layers, unit and published checks, command line, real browser. Stops at nothing,
// sums up at the end, and fails if any step failed.
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { findBrowser } from './find-browser.mjs';
import { bin, build, install, main, root, run, StepFailed } from './steps.mjs';

await main(async () => {
  install();
  build();
  const browser = await findBrowser().catch((error) => {
    throw new StepFailed(error.message);
  });
  mkdirSync(join(root, 'test-results'), { recursive: true });
  const steps = [
    ['types', [bin('typescript', 'bin/tsc'), '-p', 'tsconfig.tests.json']],
    ['lint', [bin('@biomejs/biome', 'bin/biome'), 'check', '.']],
    [
      'layers',
      [bin('dependency-cruiser', 'bin/dependency-cruise.mjs'), '--config', '.dependency-cruiser.cjs', 'src'],
    ],
    ['unit, published checks, command line', vitest('unit')],
    ['real browser', vitest('browser', '-c', 'test/browser/vitest.config.ts')],
  ];
  const failed = [];
  for (const [name, args] of steps) {
    process.stdout.write(`\n--- ${name}\n`);
    if (run(args, { env: { ...process.env, STEADYCONE_BROWSER: browser } }) !== 0) failed.push(name);
  }
  const counts = ['unit', 'browser'].map(resultsOf);
  const sum = (key) => counts.reduce((total, one) => total + one[key], 0);
  process.stdout.write(`\n${failed.length === 0 ? 'All steps passed.' : `Failed: ${failed.join('; ')}.`}\n`);
  process.stdout.write(`${sum('passed')} passed, ${sum('failed')} failed, ${sum('skipped')} skipped\n`);
  if (failed.length > 0) process.exit(1);
});

function vitest(name, ...more) {
  return [
    bin('vitest', 'vitest.mjs'),
    'run',
    ...more,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${resultFile(name)}`,
  ];
}

function resultFile(name) {
  return join(root, 'test-results', `${name}.json`);
}

function resultsOf(name) {
  if (!existsSync(resultFile(name))) return { passed: 0, failed: 0, skipped: 0 };
  const { numPassedTests, numFailedTests, numPendingTests } = JSON.parse(
    readFileSync(resultFile(name), 'utf8'),
  );
  return { passed: numPassedTests, failed: numFailedTests, skipped: numPendingTests };
}
