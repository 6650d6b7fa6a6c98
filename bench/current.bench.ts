/**
 * The spectrogram and the windowed statistics of a current trace against the same in scipy.signal and numpy, in one thread and in
 * two; then the whole streaming pass of `steadycone trace` over a file, with its peak memory. Samples: CURRENT_SAMPLES (default 2e7; the
 * issue's 1e8 needs 3 GB of memory), float32, seeded. CURRENT_HOURS=3 adds a seeded noisy trace of so many hours at 100 kS/s with events written
 * into it, 0.7 GB of disk an hour, deleted at the end, and tells what the reading says of each. Both sides get the same samples in memory, both make float32
 * densities of Hann periodograms without overlap and the same statistics; the answers are compared before any time is told.
 */
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { xoshiro128 } from '../src/core/random.ts';
import { type WrittenEvent, writeLongTrace } from './peers/long-trace.ts';
import { runScipy, scipyPython, type Timed } from './peers/scipy.ts';
import { spectrogram, statistics } from './peers/scipy-worker.mjs';
import { median } from './timing.ts';

const SAMPLES = Number(process.env.CURRENT_SAMPLES ?? 2e7);
const HOURS = Number(process.env.CURRENT_HOURS ?? 0);
const RATE_HZ = 1e5;
const SIZES = [1024, 2048, 4096];
const WINDOW = 10_000;
const REPEATS = 5;
/** Single precision on the peer's side, histogram bins on ours. */
const AGREE_DENSITY = 1e-3;
const AGREE_QUANTILE = 2e-3;
const STREAM_BUDGET_MB = 512;

const say = (line: string) => process.stdout.write(`${line}\n`);
const folder = mkdtempSync(join(tmpdir(), 'current-bench-'));
try {
  if (HOURS > 0) hours();
  await main();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function main(): Promise<void> {
  const shared = new SharedArrayBuffer(4 * SAMPLES);
  const samples = new Float32Array(shared);
  fill(samples);
  // In one thread from ordinary memory, as the peer: memory shared between threads is slower to read here.
  const own = new Float32Array(samples);
  const path = join(folder, 'samples.raw');
  write(path, samples);
  say(
    `${SAMPLES.toExponential(0)} float32 samples, windows of ${SIZES.join(', ')} points, statistics over ${WINDOW}, ${load()}`,
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
    const plain = new Float32Array(rows * bins);
    const one = times(() => spectrogram(own, 0, SAMPLES, size, RATE_HZ, plain, 0));
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
    told = statistics(own, 0, SAMPLES, WINDOW);
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
  told(inItsOwnProcess(path));
}

interface StreamRun {
  seconds: number;
  peak_MB: number;
  samples: number;
  windows: number;
  progress: number;
  longest_silence_s: number;
  stretches: { start_s: number; end_s: number; regime: string }[];
}

function inItsOwnProcess(path: string): StreamRun {
  const script = fileURLToPath(new URL('./peers/stream-process.mjs', import.meta.url));
  const { status, stdout, stderr } = spawnSync(process.execPath, [script, path], {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as StreamRun;
}

function told(run: StreamRun): void {
  const rate = (run.samples / run.seconds / 1e6).toFixed(1);
  say(
    `whole pass of a file: ${run.samples.toExponential(2)} samples, ${rate} million samples/s (${run.seconds.toFixed(1)} s, ${run.windows} windows), peak memory ${run.peak_MB.toFixed(0)} MB (target under ${STREAM_BUDGET_MB}), told its progress ${run.progress} times, at most ${run.longest_silence_s.toFixed(2)} s apart, ${load()}`,
  );
}

/** A trace of hours with events: time, memory, progress, and what the reading says where each was written. */
function hours(): void {
  const path = join(folder, 'hours.raw');
  try {
    const { samples, events } = writeLongTrace(path, { rate_Hz: RATE_HZ, hours: HOURS, seed: 3 });
    say(
      `${HOURS} h at ${RATE_HZ / 1000} kS/s, ${samples.toExponential(2)} int16 samples, ${events.length} events written`,
    );
    const run = inItsOwnProcess(path);
    told(run);
    for (const event of events)
      say(
        `  ${event.kind}, ${event.start_s.toFixed(0)} to ${event.end_s.toFixed(0)} s: read as ${readAs(run, event)}`,
      );
    say(`  elsewhere: ${readAs(run, ...betweenThe(events))}`);
  } finally {
    for (const name of [path, `${path}.json`]) rmSync(name, { force: true });
  }
}

/** Regimes told over the spans, with their shares of the time. */
function readAs(run: StreamRun, ...spans: { start_s: number; end_s: number }[]): string {
  const time = new Map<string, number>();
  for (const span of spans)
    for (const { start_s, end_s, regime } of run.stretches) {
      const both = Math.min(end_s, span.end_s) - Math.max(start_s, span.start_s);
      if (both > 0) time.set(regime, (time.get(regime) ?? 0) + both);
    }
  const all = [...time.values()].reduce((a, b) => a + b, 0);
  return [...time]
    .sort((a, b) => b[1] - a[1])
    .map(([regime, seconds]) => `${regime} ${((100 * seconds) / all).toFixed(1)} %`)
    .join(', ');
}

function betweenThe(events: readonly WrittenEvent[]): { start_s: number; end_s: number }[] {
  const edges = [0, ...events.flatMap(({ start_s, end_s }) => [start_s, end_s]), HOURS * 3600];
  return Array.from({ length: edges.length / 2 }, (_, k) => ({
    start_s: edges[2 * k]!,
    end_s: edges[2 * k + 1]!,
  }));
}

function load(): string {
  return `load ${loadavg()[0]!.toFixed(2)}`;
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
