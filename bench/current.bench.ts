/**
 * The spectrogram and the windowed statistics of a current trace against the same in scipy.signal and numpy, in one thread and in
 * two; then the whole streaming pass of `steadycone trace` over a file, with its peak memory. Samples: CURRENT_SAMPLES (default 2e7; the
 * issue's 1e8 where memory and patience allow), float32, seeded. Both sides get the same samples in memory, both make float32
 * densities of Hann periodograms without overlap and the same statistics; the answers are compared before any time is told.
 */
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { xoshiro128 } from '../src/core/random.ts';
import { runScipy, scipyPython, type Timed } from './peers/scipy.ts';
import { spectrogram, statistics } from './peers/scipy-worker.mjs';
import { median } from './timing.ts';

const SAMPLES = Number(process.env.CURRENT_SAMPLES ?? 2e7);
const RATE_HZ = 1e5;
const SIZES = [1024, 2048, 4096];
const WINDOW = 10_000;
const REPEATS = 3;
/** Single precision on the peer's side, histogram bins on ours. */
const AGREE_DENSITY = 1e-3;
const AGREE_QUANTILE = 2e-3;
const STREAM_BUDGET_MB = 512;

const say = (line: string) => process.stdout.write(`${line}\n`);
const folder = mkdtempSync(join(tmpdir(), 'current-bench-'));
try {
  await main();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function main(): Promise<void> {
  const shared = new SharedArrayBuffer(4 * SAMPLES);
  const samples = new Float32Array(shared);
  fill(samples);
  const path = join(folder, 'samples.raw');
  write(path, samples);
  say(
    `${SAMPLES.toExponential(0)} float32 samples, windows of ${SIZES.join(', ')} points, statistics over ${WINDOW}`,
  );
  const workers = [0, 1].map(() => new Worker(new URL('./peers/scipy-worker.mjs', import.meta.url)));
  const found = scipyPython();
  const peer =
    'python' in found
      ? runScipy(found.python, path, { rate_Hz: RATE_HZ, window: WINDOW, repeats: REPEATS, sizes: SIZES })
      : undefined;
  if (peer)
    say(
      `scipy ${peer.version}, numpy ${peer.numpy}; its peak memory ${peer.peak_MB.toFixed(0)} MB, of which samples ${peer.samples_MB.toFixed(0)} MB`,
    );
  else say(`scipy: skipped: ${(found as { missing: string }).missing}`);

  for (const size of SIZES) {
    const rows = Math.floor(SAMPLES / size);
    const bins = size / 2 + 1;
    const out = new SharedArrayBuffer(4 * rows * bins);
    const one = times(() => spectrogram(samples, 0, SAMPLES, size, RATE_HZ, new Float32Array(out), 0));
    const half = Math.floor(rows / 2);
    const two = await timesAsync(() =>
      Promise.all(
        [
          [0, half],
          [half, rows],
        ].map(([a, b], k) =>
          ask(workers[k]!, {
            kind: 'spectrogram',
            shared,
            outShared: out,
            from: a! * size,
            to: b! * size,
            size,
            rate: RATE_HZ,
            row: a,
          }),
        ),
      ),
    );
    const mean = meanOf(new Float32Array(out));
    report(`spectrogram ${size}`, one, two, peer?.spectrogram[String(size)]);
    if (peer) agree('mean density', mean, peer.spectrogram[String(size)]!.mean_density, AGREE_DENSITY);
  }

  let told = { sds: 0, q75: 0 };
  const windows = Math.floor(SAMPLES / WINDOW);
  const one = times(() => {
    told = statistics(samples, 0, SAMPLES, WINDOW);
  });
  const half = Math.floor(windows / 2) * WINDOW;
  const two = await timesAsync(() =>
    Promise.all([
      ask(workers[0]!, { kind: 'statistics', shared, from: 0, to: half, size: WINDOW }),
      ask(workers[1]!, { kind: 'statistics', shared, from: half, to: SAMPLES, size: WINDOW }),
    ]),
  );
  report('statistics', one, two, peer?.statistics);
  if (peer) {
    agree('mean sd', told.sds / windows, peer.statistics.mean_sd, AGREE_DENSITY);
    agree('mean upper quartile', told.q75 / windows, peer.statistics.mean_q75, AGREE_QUANTILE);
  }
  await Promise.all(workers.map((worker) => worker.terminate()));
  stream(path);
}

/** The whole pass over a file: features, lines, pulses, pyramid, slow copy, regimes. */
function stream(path: string): void {
  writeFileSync(
    `${path}.json`,
    JSON.stringify({
      format: 'float32',
      rate_Hz: RATE_HZ,
      channels: [{ quantity: 'current', unit: 'nA', scale: 1 }],
      invented: true,
    }),
  );
  const script = fileURLToPath(new URL('./peers/stream-process.mjs', import.meta.url));
  const { status, stdout, stderr } = spawnSync(process.execPath, [script, path], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  const { seconds, peak_MB, samples, windows } = JSON.parse(stdout);
  say(
    `whole pass of a file: ${(samples / seconds / 1e6).toFixed(1)} million samples/s (${seconds.toFixed(1)} s, ${windows} windows), peak memory ${peak_MB.toFixed(0)} MB (target under ${STREAM_BUDGET_MB})`,
  );
}

/** A pulsating spray with noise, in nA: distributions with a tail, spectra with lines. */
function fill(samples: Float32Array): void {
  const next = xoshiro128(1, 2, 3, 4);
  let height = 0;
  const keep = Math.exp(-1 / 6);
  for (let k = 0; k < samples.length; k++) {
    height *= keep;
    if (k % 37 === 0) height += 100 * (0.9 + (0.2 * next()) / 4294967296);
    const noise = (next() + next() + next()) / 4294967296 - 1.5;
    samples[k] = height + 2 * noise;
  }
}

function write(path: string, samples: Float32Array): void {
  const file = openSync(path, 'w');
  const bytes = new Uint8Array(samples.buffer);
  for (let at = 0; at < bytes.length; at += 1 << 26) writeSync(file, bytes.slice(at, at + (1 << 26)));
  closeSync(file);
}

function report(name: string, one: number, two: number, peer: Timed | undefined): void {
  const against =
    peer === undefined
      ? ''
      : `; scipy ${peer.cpu.toFixed(2)} s of processor time, ${peer.seconds.toFixed(2)} s by the clock: ${(peer.cpu / one).toFixed(2)} times as fast in one thread, ${(peer.seconds / two).toFixed(2)} in two`;
  say(
    `${name}: ${one.toFixed(2)} s of processor time in one thread, ${two.toFixed(2)} s by the clock in two${against}`,
  );
}

function agree(name: string, ours: number, theirs: number, tolerance: number): void {
  const off = Math.abs(ours / theirs - 1);
  if (!(off < tolerance))
    throw new Error(`${name} differs by ${off.toExponential(1)}: ${ours} against ${theirs}`);
}

function times(work: () => void): number {
  return median(
    Array.from({ length: REPEATS }, () => {
      // Processor time: other work on the machine does not count against either side.
      const start = process.cpuUsage();
      work();
      const { user, system } = process.cpuUsage(start);
      return (user + system) / 1e6;
    }),
  );
}

async function timesAsync(work: () => Promise<unknown>): Promise<number> {
  const found: number[] = [];
  for (let k = 0; k < REPEATS; k++) {
    const start = performance.now();
    await work();
    found.push((performance.now() - start) / 1000);
  }
  return median(found);
}

function ask(worker: Worker, message: object): Promise<unknown> {
  return new Promise((resolve, reject) => {
    worker.removeAllListeners();
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.postMessage(message);
  });
}

function meanOf(values: Float32Array): number {
  let sum = 0;
  for (const v of values) sum += v;
  return sum / values.length;
}
