/** Real runs held against each other, from ../shared/data beside this checkout; the suite says what it skips. */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { runReader } from '../../formats/index.ts';
import { inflate } from '../../formats-node/index.ts';
import { readRun } from '../read-run.ts';
import type { RunReading } from '../run-reading.ts';
import { runWitnesses } from '../witness/run-witnesses.ts';
import { readAgainst } from './index.ts';

const folder = join(dirname(fileURLToPath(import.meta.url)), '../../../../shared/data/mzml');
const ONE = 'nanolc_trap_16min.mzML';
const OTHER = 'nanolc_trap_33min_no_tic.mzML.gz';
const absent = [ONE, OTHER].filter((name) => !existsSync(join(folder, name)));
const skipped = absent.length === 0 ? '' : ` (SKIPPED: ${absent.join(', ')} not beside this checkout)`;

function readingOf(name: string): RunReading {
  const stored = readFileSync(join(folder, name));
  const witnesses = runWitnesses();
  const reader = runReader({ inflate, onMs1: witnesses.see });
  reader.push(name.endsWith('.gz') ? gunzipSync(stored) : stored);
  return readRun(reader.end(), { witnesses: witnesses.finish() });
}

test.skipIf(skipped !== '')(`a run against itself is flat, two methods refuse each other${skipped}`, () => {
  const [one, other] = [readingOf(ONE), readingOf(OTHER)];
  const itself = readAgainst(one, [{ name: 'itself', reading: one }]);
  expect(itself.from).toBe('standing ions');
  expect(itself.ratio?.value).toBe(1);
  expect(itself.events).toEqual([]);
  const again = readAgainst(other, [{ name: 'itself', reading: other }]);
  // No ion stands throughout in that run.
  expect(again.from).toBe('passing ions');
  expect(again.ratio?.value).toBe(1);
  expect(again.events).toEqual([]);
  for (const [run, reading] of [
    [one, other],
    [other, one],
  ] as const)
    expect(readAgainst(run, [{ name: 'other', reading }]).references[0]?.refused).toMatch(
      /overlap|other ions/,
    );
});
