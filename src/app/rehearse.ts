/** A rehearsal written to files: the trace as CSV, WAV and raw samples, the run as mzML, the truth as JSON; all marked invented. */
import { type FileHandle, mkdir, open } from 'node:fs/promises';
import { join } from 'node:path';
import { inputError } from '../core/errors.ts';
import type { Setup } from '../core/setup.ts';
import {
  ASSUMPTIONS,
  type Bench,
  type BenchControls,
  type BenchScript,
  CONTROL_RANGE,
  type Course,
  courseOf,
  createBench,
  DARK_LEVEL,
  DIFFERS,
  type InventedRunOptions,
  inventedRun,
  leftVoltage,
  METERS,
  type Meter,
  type MeterName,
  pcmBytes,
  rawSidecarText,
  recordRun,
  type Stretch,
  TICK_S,
  type TruthDocument,
  TURNED,
  type Turned,
  traceCsvHead,
  traceCsvRows,
  truthDocument,
  wavHead,
  workingVoltage,
} from '../rehearsal/index.ts';

import { buffered, checkFree } from './rehearse-files.ts';

export { FILE_FAULTS, METERS, NOT_REHEARSED, REHEARSED_FAULTS } from '../rehearsal/index.ts';

export const TRACE_FORMATS = ['csv', 'wav', 'raw', 'mzml'] as const;
export type TraceFormat = (typeof TRACE_FORMATS)[number];

export interface RehearsalOptions {
  seed: number;
  setup?: Setup;
  fault: string;
  faultFrom_s?: number;
  /** Texts of the courses; left out: the set-up's value, and for the voltage the hidden emitter's working one. */
  courses: Partial<Record<Turned, string>>;
  trace_s: number;
  run_s: number;
  scan_s: number;
  meter: MeterName;
  /** In place of the meter's own. */
  rate_Hz?: number;
  bandwidth_Hz?: number;
  formats: readonly TraceFormat[];
  /** Files that stand already are written over. */
  force: boolean;
  /** Eluting peaks in the run; 0: an infusion. */
  peaks: number;
}

export interface Rehearsal {
  files: string[];
  /** Why a file that was asked for was left out. */
  left_out: string[];
  truth: TruthDocument;
  stretches: Stretch[];
  scans: number;
}

/** Longer traces are left out of the CSV: WAV and raw samples hold them. */
const CSV_SAMPLES = 2_000_000;
const LONGEST_SAMPLES = 4e8;
const LONGEST_RUN_S = 6 * 3600;

export async function rehearse(folder: string, options: RehearsalOptions): Promise<Rehearsal> {
  const meter = meterOf(options);
  const bench = createBench({
    seed: options.seed,
    fault: options.fault,
    meter,
    scan_s: options.scan_s,
    ...(options.setup === undefined ? {} : { setup: options.setup }),
    ...(options.faultFrom_s === undefined ? {} : { faultFrom_s: options.faultFrom_s }),
  });
  checkFileFault(options, bench);
  const script = scriptOf(options, bench);
  const count = Math.round(script.trace_s / TICK_S) * bench.samplesPerTick;
  if (count > LONGEST_SAMPLES || script.run_s > LONGEST_RUN_S)
    throw inputError(
      'out of range',
      'length',
      `${count} samples, ${script.run_s} s`,
      `at most ${LONGEST_SAMPLES} samples and ${LONGEST_RUN_S} s`,
    );
  await mkdir(folder, { recursive: true });
  const result: Rehearsal = { files: [], left_out: [], truth: truthDocument(bench), stretches: [], scans: 0 };
  const wanted = options.formats.filter((format) => {
    if (format !== 'csv' || count <= CSV_SAMPLES) return true;
    result.left_out.push(
      `trace.csv: ${count} samples, more than ${CSV_SAMPLES}; WAV and raw samples hold them`,
    );
    return false;
  });
  const names = ['truth.json', ...wanted.flatMap((format) => FILES[format])];
  if (!options.force) await checkFree(names.map((name) => join(folder, name)));
  const create = async (name: string): Promise<FileHandle> => {
    const path = join(folder, name);
    const file = await open(path, 'w').catch((error: NodeJS.ErrnoException) => {
      throw inputError(
        'invalid',
        'output file',
        `${path} (${error.code ?? 'unknown'})`,
        'a folder you may write',
      );
    });
    result.files.push(path);
    return file;
  };
  const truthFile = await create('truth.json');
  const handles: FileHandle[] = [truthFile];
  try {
    const csv = wanted.includes('csv') ? await create('trace.csv') : undefined;
    const wav = wanted.includes('wav') ? await create('trace.wav') : undefined;
    const raw = wanted.includes('raw') ? await create('trace.raw') : undefined;
    const mzml = wanted.includes('mzml') ? await create('run.mzML') : undefined;
    for (const handle of [csv, wav, raw, mzml]) if (handle) handles.push(handle);
    await csv?.write(traceCsvHead(options.seed, meter));
    await wav?.write(wavHead(options.seed, meter, count));
    if (raw) {
      const sidecar = await create('trace.raw.json');
      handles.push(sidecar);
      await sidecar.write(rawSidecarText(options.seed, meter));
    }
    const csvOut = buffered(csv);
    const wavOut = buffered(wav);
    const rawOut = buffered(raw);
    const pieces = recordRun(bench, script);
    let first = 0;
    let step = pieces.next();
    for (; !step.done; step = pieces.next()) {
      const { samples, controls, pressure_bar } = step.value;
      if (csv) await csvOut.push(Buffer.from(traceCsvRows(samples, first, meter, controls, pressure_bar)));
      if (wav || raw) {
        const bytes = pcmBytes(samples, meter);
        await wavOut.push(bytes);
        await rawOut.push(bytes);
      }
      first += samples.length;
    }
    for (const out of [csvOut, wavOut, rawOut]) await out.flush();
    const { levels, stretches } = step.value;
    result.stretches = stretches;
    result.scans = levels.filter((level) => !Number.isNaN(level)).length;
    if (mzml)
      for (const text of inventedRun({
        seed: options.seed,
        ms1_interval_s: bench.scan_s,
        peaks: options.peaks,
        spray: levels.map((level) => Math.max(0, level - DARK_LEVEL)),
        ...peakChange(bench),
      }))
        await mzml.write(text);
    await truthFile.write(
      `${JSON.stringify(
        {
          note: 'invented by steadycone rehearse; not a measurement',
          ...result.truth,
          courses: script.courses,
          meter,
          stretches: result.stretches,
          assumptions: ASSUMPTIONS,
          where_a_real_bench_differs: DIFFERS,
        },
        null,
        2,
      )}\n`,
    );
  } finally {
    for (const handle of handles) await handle.close();
  }
  return result;
}

const FILES: Record<TraceFormat, string[]> = {
  csv: ['trace.csv'],
  wav: ['trace.wav'],
  raw: ['trace.raw', 'trace.raw.json'],
  mzml: ['run.mzML'],
};

function meterOf({ meter, rate_Hz, bandwidth_Hz }: RehearsalOptions): Meter {
  const { words: _words, ...chosen } = METERS[meter];
  const rate = rate_Hz ?? chosen.rate_Hz;
  const perTick = rate * TICK_S;
  if (!(Number.isInteger(perTick) && rate >= 1000 && rate <= 1_000_000))
    throw inputError('out of range', 'rate', `${rate} Hz`, 'a multiple of 200 Hz from 1000 to 1000000 Hz');
  const bandwidth = bandwidth_Hz ?? chosen.bandwidth_Hz;
  if (!(bandwidth >= 1 && bandwidth <= 1e6))
    throw inputError('out of range', 'bandwidth', `${bandwidth} Hz`, '1 to 1000000 Hz');
  return { ...chosen, rate_Hz: rate, bandwidth_Hz: bandwidth };
}

/** What a written file needs so that its fault can show. */
function checkFileFault(options: RehearsalOptions, { truth }: Bench): void {
  const { fault } = truth;
  if (!fault) return;
  const { leftLow, leftHigh } = fault.effects;
  if (options.courses.voltage_V !== undefined && (leftLow > 0 || leftHigh > 0))
    throw inputError(
      'invalid',
      '--voltage',
      `given with the fault ${fault.id}`,
      'none: the fault is the voltage',
    );
  if (peakChange({ truth }).peak_change && !(options.peaks > 0 && options.formats.includes('mzml')))
    throw inputError(
      'missing',
      '--peaks',
      `${fault.id} shows in eluting peaks only`,
      'a number of peaks, and mzml among the files',
    );
}

function peakChange({ truth }: Pick<Bench, 'truth'>): Pick<InventedRunOptions, 'peak_change'> {
  const { fault } = truth;
  if (!fault) return {};
  const { peakWidth: width, peakTail_s: tail_s } = fault.effects;
  return width === 1 && tail_s === 0 ? {} : { peak_change: { from_s: fault.from_s, width, tail_s } };
}

function scriptOf(options: RehearsalOptions, bench: Bench): BenchScript {
  const { inlet, feed } = bench.truth.setup;
  const held = (name: Turned, value: number): Course => {
    const text = options.courses[name];
    return text === undefined ? [{ at_s: 0, value }] : courseOf(name, text);
  };
  const courses = {
    flow_nL_min: held('flow_nL_min', feed.kind === 'pumped' ? feed.flow_nL_min : 0),
    distance_mm: held('distance_mm', inlet.distance_mm),
    offset_mm: held('offset_mm', inlet.lateral_offset_mm),
  };
  const start = { high_voltage: true, voltage_V: 0 } as BenchControls;
  for (const name of TURNED) if (name !== 'voltage_V') start[name] = courses[name][0]!.value;
  const working = Math.min(CONTROL_RANGE.voltage_V.high, workingVoltage(bench, start));
  const left = leftVoltage(bench, start);
  const from_s = bench.truth.fault?.from_s ?? 0;
  const voltage_V =
    left === undefined
      ? held('voltage_V', working)
      : [...(from_s > 0 ? [{ at_s: 0, value: working }] : []), { at_s: from_s, value: left }];
  return {
    courses: { voltage_V, ...courses },
    trace_s: options.trace_s,
    run_s: Math.max(options.run_s, options.trace_s),
  };
}
