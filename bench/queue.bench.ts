/**
 * How fast a folder of runs is read, and how that grows with the workers: a seeded folder of invented mzML files of an hour each
 * (QUEUE_FILES, 24 by default, 12.5 MB a file), read as `read DIR --queue --jobs N` does, each time in a process of its own, kept on an
 * empty bench and not kept, rounds interleaved, medians. All ways of reading must give the same summaries. QUEUE_FOLDER reads a folder of yours.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { inventedRun } from '../src/rehearsal/index.ts';
import { median, megabytesPerSecond } from './timing.ts';

const FILES = Number(process.env.QUEUE_FILES ?? 24);
const LENGTH_MIN = 60;
const REPEATS = 3;
const WORKERS = [...new Set([1, 2, availableParallelism()])];
const OWN = join(import.meta.dirname, 'peers', 'queue-process.mjs');

interface Outcome {
  seconds: number;
  first_s: number;
  cpu_s: number;
  peak_MB: number;
  told: string;
}

interface Way {
  jobs: number;
  kept: boolean;
  outcomes: Outcome[];
}

const say = (line: string) => process.stdout.write(`${line}\n`);
const made = mkdtempSync(join(tmpdir(), 'queue-bench-'));
try {
  main();
} finally {
  rmSync(made, { recursive: true, force: true });
}

function main(): void {
  const folder = process.env.QUEUE_FOLDER ?? made;
  if (folder === made)
    for (let seed = 1; seed <= FILES; seed++)
      writeFileSync(
        join(folder, `run_${seed}.mzML`),
        [...inventedRun({ seed, length_min: LENGTH_MIN, faults: seed % 4 === 0 ? 'planted' : 'none' })].join(
          '',
        ),
      );
  const names = readdirSync(folder).filter((name) => /\.mzx?ml(\.gz)?$/i.test(name));
  const bytes = names.reduce((sum, name) => sum + statSync(join(folder, name)).size, 0);
  say(
    `${names.length} files, ${(bytes / 1e6).toFixed(0)} MB, ${availableParallelism()} processors, ${load()}`,
  );
  const ways: Way[] = [false, true].flatMap((kept) => WORKERS.map((jobs) => ({ jobs, kept, outcomes: [] })));
  for (let repeat = 0; repeat < REPEATS; repeat++)
    for (const way of ways) way.outcomes.push(read(folder, way));
  const told = ways[0]!.outcomes[0]!.told;
  for (const kept of [false, true]) {
    let one = Number.NaN;
    for (const way of ways.filter((each) => each.kept === kept)) {
      const of = (key: 'seconds' | 'first_s' | 'cpu_s') =>
        median(way.outcomes.map((outcome) => outcome[key]));
      const seconds = of('seconds');
      if (way.jobs === 1) one = seconds;
      const peak = Math.max(...way.outcomes.map((outcome) => outcome.peak_MB));
      const same = way.outcomes.every((outcome) => outcome.told === told)
        ? 'same summaries'
        : 'DIFFERENT SUMMARIES';
      say(
        `  ${kept ? 'kept    ' : 'not kept'}  ${way.jobs} ${way.jobs === 1 ? 'worker ' : 'workers'}  ${seconds.toFixed(2)} s  ` +
          `${megabytesPerSecond(bytes, 1000 * seconds)} MB/s  ratio ${(one / seconds).toFixed(2)}  ` +
          `processors busy ${(of('cpu_s') / seconds).toFixed(2)}  cpu ${of('cpu_s').toFixed(2)} s  first file ${of('first_s').toFixed(2)} s  ` +
          `peak ${peak.toFixed(0)} MB  ${same}`,
      );
    }
  }
  say(load());
}

function read(folder: string, { jobs, kept }: Way): Outcome {
  const bench = mkdtempSync(join(tmpdir(), 'queue-bench-kept-'));
  try {
    const args = [OWN, folder, String(jobs), ...(kept ? [bench] : [])];
    const { status, stdout, stderr } = spawnSync(process.execPath, args, {
      encoding: 'utf8',
      maxBuffer: 2 ** 28,
    });
    if (status !== 0) throw new Error(stderr);
    return JSON.parse(stdout) as Outcome;
  } finally {
    rmSync(bench, { recursive: true, force: true });
  }
}

function load(): string {
  return `load ${loadavg()[0]!.toFixed(2)}`;
}
