/**
 * Real runs: read as they are, and with falls planted into them. None is known to spray badly, so a dropout in them
 * would need a reason. The packaged run is always there; the shared ones only beside the checkout.
 */
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { jsonFault } from '../../test/kit/made-record.ts';
import { randomStream } from '../core/random.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { readRunFile } from '../formats-node/index.ts';
import { readRun } from './read-run.ts';

const packaged = join(packageFolder('mzdata'), 'src/mzxml/lcMsMs.mzXML');
const shared = join(import.meta.dirname, '../../../shared/data/mzml');
const hasShared = existsSync(shared);
if (!hasShared) console.warn('shared/data/mzml is not beside this checkout: its real runs are not read here');

/** File, MS1 scans, grade: short cuts of a run cannot be judged, none of the others gives cause to repeat. */
const SHARED: readonly [string, number, string][] = [
  ['infusion_sim_windows_iit.mzML', 88, 'cannot tell'],
  ['lc.mzXML', 87, 'keep'],
  ['lc_zlib_iit.mzML', 126, 'cannot tell'],
  ['nanoesi_polarity_switching_profile.mzML.gz', 961, 'keep'],
  ['nanolc_few_ms1_iit.mzML', 24, 'cannot tell'],
  ['nanolc_iit_as_userparam.mzML.gz', 207, 'keep'],
  ['nanolc_trap_16min.mzML', 564, 'keep'],
  ['nanolc_trap_33min_no_tic.mzML.gz', 2035, 'keep'],
  ['nanolc_trap_iit_clamped.mzML', 62, 'cannot tell'],
  ['two_analysers_profile_iit.mzML', 14, 'cannot tell'],
];

test('the packaged run: its valve is told from a fault', async () => {
  const { record } = await readRunFile(packaged);
  const reading = readRun(record);
  expect(reading.ms1_count).toBe(736);
  expect(reading.verdict.grade).toBe('keep these minutes');
  // At 8:02 the level falls by nine tenths and recovers only in part; at 9:33 a valve ends the run.
  expect(reading.events.map((event) => event.kind)).toEqual(['level lost', 'signal lost at the end']);
  expect(Math.abs(reading.events[0]!.start_s - 482)).toBeLessThan(3);
  expect(reading.events[0]!.depth!).toBeGreaterThan(0.75);
  expect(reading.events[1]!.confidence).toBeLessThan(0.5);
  expect(jsonFault(reading)).toBeUndefined();
});

test('falls planted into the packaged run are found where they were planted', async () => {
  const { record } = await readRunFile(packaged);
  expect(foundShare(record, 6, 0.9)).toBeGreaterThanOrEqual(0.9);
  // Shallow ones drown in elution: what counts is that most of what is told is true, not that all is told.
  expect(foundShare(record, 6, 0.6)).toBeGreaterThanOrEqual(0.3);
});

test.runIf(hasShared)('shared real runs: right counts, plain JSON, no cause to repeat', async () => {
  for (const [name, ms1, grade] of SHARED) {
    const { record } = await readRunFile(join(shared, name));
    const reading = readRun(record);
    expect([name, reading.ms1_count, reading.verdict.grade]).toEqual([name, ms1, grade]);
    expect(reading.events.filter((event) => event.confidence >= 0.5)).toEqual([]);
    expect(reading.undecided.length).toBeGreaterThanOrEqual(4);
    expect(jsonFault(reading)).toBeUndefined();
    for (const group of reading.groups) {
      const { time_s } = group.series;
      expect(time_s).toEqual([...time_s].sort((a, b) => a - b));
    }
  }
});

test.runIf(hasShared)('falls planted into a real nanoLC run are found', async () => {
  const { record } = await readRunFile(join(shared, 'nanolc_trap_16min.mzML'));
  expect(foundShare(record, 3, 0.9)).toBeGreaterThanOrEqual(0.9);
  expect(foundShare(record, 30, 0.9)).toBeGreaterThanOrEqual(0.9);
  expect(foundShare(record, 60, 0.6)).toBeGreaterThanOrEqual(0.7);
});

/** Share of 20 falls, planted one at a time, that are found with both edges within 4 s. */
function foundShare(record: RunRecord, length_s: number, depth: number): number {
  const place = randomStream(1, 'planted falls');
  const trials = 20;
  const edge_s = 4;
  const first = record.time_s[0]!;
  const last = record.time_s[record.ms1_count - 1]!;
  let found = 0;
  for (let k = 0; k < trials; k++) {
    const start = first + (last - first) * place.between(0.25, 0.85) - length_s / 2;
    const end = start + length_s;
    const tic_stated = record.tic_stated.map((level, i) => {
      const time = record.time_s[i]!;
      return time >= start && time < end ? level * (1 - depth) : level;
    });
    const hit = readRun({ ...record, tic_stated }).events.some(
      (event) => Math.abs(event.start_s - start) < edge_s && Math.abs(event.end_s - end) < edge_s,
    );
    if (hit) found++;
  }
  return found / trials;
}

/** The package closes its folder to imports; it is found by where node looks. */
function packageFolder(name: string): string {
  const paths = createRequire(import.meta.url).resolve.paths(name) ?? [];
  const folder = paths.map((path) => join(path, name)).find((path) => existsSync(path));
  if (!folder)
    throw new Error(`missing package ${name}: expected in node_modules of ${dirname(import.meta.dirname)}`);
  return folder;
}
