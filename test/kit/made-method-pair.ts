/** Invented run files of one method: the same ions and elution, each file its own scatter and its own course of the spray. */
import { randomStream } from '../../src/core/random.ts';
import { inventedRun } from '../../src/rehearsal/index.ts';

const MINUTES = 8;
const INTERVAL_S = 1.5;
const SCATTER = 0.05;

/** `method` sets the ions, `noise` the scatter; the text of an mzML file. */
export function runOfMethod(method: number, noise: number, factor: (t: number) => number): string {
  const stream = randomStream(noise, 'scans');
  const spray = Array.from(
    { length: (MINUTES * 60) / INTERVAL_S },
    (_, i) => factor(i * INTERVAL_S) * stream.factor(SCATTER),
  );
  return [...inventedRun({ seed: method, ms1_interval_s: INTERVAL_S, spray })].join('');
}
