/**
 * How many ripples of 10 % could any search find in scans that scatter by 10 %? A periodogram that is told what no reading
 * knows: the length of the ripple (80 scans), the scatter, and that it is white. It looks at every place of the run and at
 * all periods, and has the whole alarm a day for itself; once for periods above two scans alone, once up to three scan rates
 * as folding asks. What this finds no search of the same reach finds more of.
 * `npx tsx bench/detection/ripple-bound.ts` (PIECES, TRIALS, SEED); takes the scan times of the 16 min run, some minutes.
 */
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { median } from '../../src/core/numeric/robust.ts';
import { randomStream } from '../../src/core/random.ts';
import { loadRun } from './memory-run.ts';

const SCANS = 80;
const EVERY = 4;
const OVERSAMPLE = 3;
const LEAST_PERIODS = 6;
/** Determinant, over that of even phases, below which constant and sinusoid are one. */
const FLAT = 0.08;
const PIECES = Number(process.env.PIECES ?? 700);
const TRIALS = Number(process.env.TRIALS ?? 300);
const SEED = Number(process.env.SEED ?? 1);

const name = 'nanolc_trap_16min.mzML';
const run = loadRun(join(dirname(fileURLToPath(import.meta.url)), '../../../shared/data/mzml', name), name);
if (!run) throw new Error('missing file: the shared data; expected beside this checkout');
const times = Float64Array.from(run.record.time_s.slice(0, run.record.ms1_count));
const n = times.length;
const interval_s = median(times.subarray(1).map((time, i) => time - times[i]!));
const days = (PIECES * run.span_s) / 86_400;

for (const [words, rates] of [
  ['periods above two scans', 0.5],
  ['folded periods too', 3],
] as const) {
  const tables = windows(rates / interval_s);
  const quiet = Array.from({ length: PIECES }, (_, k) => strongest(white(`white ${k}`), tables));
  const limit = quiet.sort((a, b) => b - a)[Math.floor(days)]!;
  for (const intervals of rates > 0.5 ? [4, 0.37] : [4]) {
    let found = 0;
    for (let k = 0; k < TRIALS; k++) {
      if (strongest(rippled(intervals, k), tables) > limit) found++;
    }
    process.stdout.write(
      `${words}: limit ${limit.toFixed(1)} at one a day (${days.toFixed(1)} days); ripple every ${intervals} intervals found ${((100 * found) / TRIALS).toFixed(0)} % of ${TRIALS}\n`,
    );
  }
}

interface Table {
  first: number;
  cos: Float64Array;
  sin: Float64Array;
  CC: Float64Array;
  SS: Float64Array;
  CS: Float64Array;
}

function windows(to_Hz: number): Table[] {
  const from_Hz = LEAST_PERIODS / (SCANS * interval_s);
  const step_Hz = 1 / (OVERSAMPLE * SCANS * interval_s);
  const count = Math.floor((to_Hz - from_Hz) / step_Hz) + 1;
  const tables: Table[] = [];
  for (let first = 0; first + SCANS <= n; first += EVERY) {
    const table: Table = {
      first,
      cos: new Float64Array(count * SCANS),
      sin: new Float64Array(count * SCANS),
      CC: new Float64Array(count),
      SS: new Float64Array(count),
      CS: new Float64Array(count),
    };
    for (let f = 0; f < count; f++) {
      let c1 = 0;
      let s1 = 0;
      for (let i = 0; i < SCANS; i++) {
        const angle = 2 * Math.PI * (from_Hz + f * step_Hz) * (times[first + i]! - times[first]!);
        table.cos[f * SCANS + i] = Math.cos(angle);
        table.sin[f * SCANS + i] = Math.sin(angle);
        c1 += Math.cos(angle);
        s1 += Math.sin(angle);
      }
      for (let i = f * SCANS; i < (f + 1) * SCANS; i++) {
        const c = table.cos[i]! - c1 / SCANS;
        const s = table.sin[i]! - s1 / SCANS;
        table.cos[i] = c;
        table.sin[i] = s;
        table.CC[f]! += c * c;
        table.SS[f]! += s * s;
        table.CS[f]! += c * s;
      }
    }
    tables.push(table);
  }
  return tables;
}

/** Largest power over all windows and periods, in units in which white scatter of 1 exceeds z with exp(-z). */
function strongest(value: Float64Array, tables: readonly Table[]): number {
  let most = 0;
  for (const { first, cos, sin, CC, SS, CS } of tables) {
    for (let f = 0; f < CC.length; f++) {
      const D = CC[f]! * SS[f]! - CS[f]! * CS[f]!;
      if (!(D > (FLAT * SCANS * SCANS) / 4)) continue;
      let yc = 0;
      let ys = 0;
      for (let i = 0; i < SCANS; i++) {
        yc += value[first + i]! * cos[f * SCANS + i]!;
        ys += value[first + i]! * sin[f * SCANS + i]!;
      }
      most = Math.max(most, (yc * yc * SS[f]! + ys * ys * CC[f]! - 2 * yc * ys * CS[f]!) / (2 * D));
    }
  }
  return most;
}

function white(words: string): Float64Array {
  const stream = randomStream(SEED, words);
  return Float64Array.from({ length: n }, () => stream.normal());
}

/** Amplitude as large as the scatter, as 10 % in 10 %. */
function rippled(intervals: number, k: number): Float64Array {
  const value = white(`ripple ${intervals} ${k}`);
  const place = randomStream(SEED, `place ${intervals} ${k}`);
  const first = Math.floor((n - SCANS - 1) * place.between(0.08, 0.92));
  const period_s = (intervals * (times[first + SCANS]! - times[first]!)) / SCANS;
  const phase = place.between(0, 2 * Math.PI);
  for (let i = first; i < first + SCANS; i++) {
    value[i]! += Math.sin(phase + (2 * Math.PI * (times[i]! - times[first]!)) / period_s);
  }
  return value;
}
