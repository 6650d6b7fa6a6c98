/**
 * Reading large runs side by side with general-purpose readers, each in its own process, interleaved repeats, medians:
 * time and summed intensity of every MS1 spectrum, then our full reading with ions and evidence. The files are made by
 * seed into the folder for temporary files and deleted at the end unless KEEP=1; RUNS_BIG=1 adds 3 GB. At the end speed and peak
 * memory of ours at each size, and whether cost is linear in it. PEERS=install fetches the peers where this process may.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { loadavg, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parseMZ } from 'mzdata';
import { readRunFile } from '../src/formats-node/index.ts';
import { installPeers } from './peers/install.ts';
import { type MadeFile, madeRunFile } from './peers/runs-file.ts';
import { PACKAGES, peerReaders, type Reader } from './peers/runs-programs.ts';
import { median, megabytesPerSecond, timed } from './timing.ts';

const REPEATS = 3;
const SIZES = [30e6, 300e6, ...(process.env.RUNS_BIG === '1' ? [3e9] : [])];
/** Largest file whose rows are compared and whose peers are repeated. */
const REPEATED = 1e9;
/** Rows of two readers agree to this: sums of the same numbers in any order, times printed with nine digits. */
const SAME = 1e-6;
const OWN = join(import.meta.dirname, 'peers', 'runs-own.mjs');

interface Outcome {
  ms: number;
  peak_MB: number;
  cpu_s: number;
  rows: string[];
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

function run(reader: Reader, path: string): Outcome | string {
  const [program, ...args] = reader.command;
  const start = performance.now();
  const { stdout, status, stderr } = spawnSync(program!, [...args, path], {
    encoding: 'utf8',
    maxBuffer: 2 ** 30,
  });
  const ms = performance.now() - start;
  const lines = stdout.trim().split('\n');
  const [mark, peak, cpu] = (lines.pop() ?? '').split(' ');
  if (status !== 0 || mark !== 'used') return `failed: ${stderr.trim().split('\n').at(-1) ?? ''}`;
  return { ms, peak_MB: Number(peak) / 1024, cpu_s: Number(cpu), rows: lines };
}

/** Largest relative difference of two columns of rows; a word when their numbers differ. */
function apart(a: readonly string[], b: readonly string[]): string {
  if (a.length !== b.length) return `DIFFERENT: ${b.length} rows instead of ${a.length}`;
  let worst = 0;
  for (let i = 0; i < a.length; i += 1) {
    const [left, right] = [a[i]!.split(' ').map(Number), b[i]!.split(' ').map(Number)];
    for (const k of [0, 1]) {
      const scale = Math.max(Math.abs(left[k]!), Math.abs(right[k]!), Number.MIN_VALUE);
      worst = Math.max(worst, Math.abs(left[k]! - right[k]!) / scale);
    }
  }
  return worst <= SAME ? 'same rows' : `DIFFERENT by ${worst}`;
}

/** What the first of the readers, ours, needed for one file. */
interface Cost {
  task: string;
  bytes: number;
  ms: number;
  peak_MB: number;
  /** MS1 spectra; what is kept for each is all that grows with the file. */
  scans: number;
}

function compare(file: MadeFile, readers: readonly Reader[], task: string): Cost | undefined {
  const repeats = file.bytes > REPEATED ? 1 : REPEATS;
  const outcomes = readers.map((): Outcome[] => []);
  const failures = readers.map(() => '');
  for (let repeat = 0; repeat < repeats; repeat += 1) {
    readers.forEach((reader, i) => {
      const outcome = run(reader, file.path);
      if (typeof outcome === 'string') failures[i] = outcome;
      else outcomes[i]!.push(outcome);
    });
  }
  const ours = median(outcomes[0]!.map(({ ms }) => ms));
  const rows = outcomes[0]![0]?.rows ?? [];
  readers.forEach((reader, i) => {
    const done = outcomes[i]!;
    if (done.length === 0) {
      say(`  ${reader.name.padEnd(14)} ${failures[i]}`);
      return;
    }
    const ms = median(done.map((outcome) => outcome.ms));
    const cpu = median(done.map((outcome) => outcome.cpu_s));
    const peak = Math.max(...done.map((outcome) => outcome.peak_MB));
    say(
      `  ${reader.name.padEnd(14)} ${(ms / 1000).toFixed(2).padStart(6)} s  ${megabytesPerSecond(file.bytes, ms).padStart(4)} MB/s` +
        `  cpu ${cpu.toFixed(2)} s  peak ${peak.toFixed(0)} MB` +
        (i === 0 ? '' : `  ratio ${(ms / ours).toFixed(2)}  ${apart(rows, done[0]!.rows)}`),
    );
  });
  const first = outcomes[0]!;
  if (first.length === 0) return undefined;
  const peak_MB = Math.max(...first.map((outcome) => outcome.peak_MB));
  const scans = rows.length > 1 ? rows.length : Number(rows[0]!.split(' ')[0]);
  return { task, bytes: file.bytes, ms: ours, peak_MB, scans };
}

/** Cost is linear in size where MB/s do not fall; memory should not grow but for what each MS1 spectrum leaves. */
function growth(costs: readonly Cost[]): void {
  for (const task of new Set(costs.map((cost) => cost.task))) {
    const sizes = costs.filter((cost) => cost.task === task);
    say(`growth with size, ${task}:`);
    sizes.forEach((cost, i) => {
      const before = sizes[i - 1];
      const speed = cost.bytes / cost.ms;
      const line = `  ${(cost.bytes / 1e6).toFixed(0).padStart(5)} MB  ${megabytesPerSecond(cost.bytes, cost.ms)} MB/s  peak ${cost.peak_MB.toFixed(0)} MB`;
      if (!before) {
        say(line);
        return;
      }
      const grown = ((cost.peak_MB - before.peak_MB) * 2 ** 20) / (cost.scans - before.scans);
      say(
        `${line}  MB/s over those of the size before ${((speed * before.ms) / before.bytes).toFixed(2)}` +
          `  peak grows by ${grown.toFixed(0)} bytes an MS1 spectrum`,
      );
    });
  }
}

function load(): string {
  return `load ${loadavg()[0]!.toFixed(2)}`;
}

async function sideBySide(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-readers-'));
  const files: MadeFile[] = [];
  const costs: Cost[] = [];
  try {
    let { readers, skipped } = peerReaders(folder);
    if (skipped.length > 0) {
      const why = installPeers(PACKAGES);
      if (why === undefined) ({ readers, skipped } = peerReaders(folder));
      for (const line of skipped) say(`skipped: ${line}${why === undefined ? '' : ` (${why})`}`);
    }
    const ours = { name: 'steadycone', command: [process.execPath, OWN, 'ms1'] };
    const full = { name: 'full reading', command: [process.execPath, OWN, 'full'] };
    for (const bytes of SIZES) {
      for (const zlib of [false, true]) {
        const file = await madeRunFile(bytes, zlib);
        files.push(file);
        const arrays = zlib ? 'zlib' : 'uncompressed';
        say(
          `${(file.bytes / 1e6).toFixed(0)} MB, ${arrays} arrays, ${file.made ? 'made' : 'found'}, ` +
            `sha256 ${file.sha256.slice(0, 12)}, ${load()}`,
        );
        for (const [task, several] of [
          [`time and sum, ${arrays} arrays`, [ours, ...readers]],
          [`full reading, ${arrays} arrays`, [full]],
        ] as const) {
          const cost = compare(file, several, task);
          if (cost) costs.push(cost);
        }
      }
    }
    growth(costs);
  } finally {
    rmSync(folder, { recursive: true, force: true });
    if (process.env.KEEP !== '1') {
      for (const { path } of files)
        for (const name of [path, `${path}.sha256`]) rmSync(name, { force: true });
    }
  }
}

/** The real run inside npm mzdata against that package's own reader, warm. */
async function packagedRun(): Promise<void> {
  const package_ = dirname(createRequire(import.meta.url).resolve('mzdata/package.json'));
  const path = join(package_, 'src', 'mzxml', 'lcMsMs.mzXML');
  const ours: number[] = [];
  const peer: number[] = [];
  for (let i = 0; i < 5; i += 1) {
    ours.push(await timed(() => readRunFile(path)));
    peer.push(await timed(async () => parseMZ(readFileSync(path))));
  }
  const bytes = statSync(path).size;
  const [a, b] = [median(ours), median(peer)];
  say(
    `real LC-MS/MS run of npm mzdata, mzXML, ${(bytes / 1e6).toFixed(1)} MB, 5 repeats, medians, ${load()}`,
  );
  say(`  steadycone     ${a.toFixed(0)} ms  ${megabytesPerSecond(bytes, a)} MB/s`);
  say(
    `  npm mzdata     ${b.toFixed(0)} ms  ${megabytesPerSecond(bytes, b)} MB/s  ratio ${(b / a).toFixed(2)}`,
  );
}

await packagedRun();
await sideBySide();
