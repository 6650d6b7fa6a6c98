/** A rehearsal that runs by a script instead of a hand: courses of the controls over time, and what was recorded. */
import { inputError } from '../../core/errors.ts';
import { type Bench, TICK_S } from './bench.ts';
import { type BenchControls, CONTROL_RANGE, checkedControl, TURNED, type Turned } from './controls.ts';
import type { BenchRegime } from './regime.ts';

/** A value from each instant on, until the next. */
export type Course = readonly { at_s: number; value: number }[];

export interface BenchScript {
  courses: Record<Turned, Course>;
  /** The current is sampled for so long. */
  trace_s: number;
  /** Scans are taken for so long; at least the trace's length. */
  run_s: number;
}

export interface Stretch {
  from_s: number;
  to_s: number;
  regime: BenchRegime;
  jets: number;
  corona: boolean;
  /** Means over the stretch. */
  tip_V: number;
  onset_V: number;
  current_nA: number;
  pulsation_Hz: number | undefined;
}

export interface RecordedRun {
  /** Signal of each scan; 1: the best of this emitter at 300 nL/min. NaN: the instrument took none. */
  levels: number[];
  /** What the bench did, stretches shorter than a tenth of a second joined to the one before. */
  stretches: Stretch[];
}

/** '1500', or '0:800,10:1200' for steps at those seconds. */
export function courseOf(name: Turned, text: string): Course {
  const { unit } = CONTROL_RANGE[name];
  const bad = () =>
    inputError('invalid', name, text, `a number in ${unit}, or seconds and values such as 0:800,10:1200`);
  const parts = text.split(',').map((part) => part.trim());
  const course = parts.map((part) => {
    const match = /^(?:(\d+(?:\.\d+)?)\s*:\s*)?(-?\d+(?:\.\d+)?)$/.exec(part);
    if (!match || (match[1] === undefined && parts.length > 1)) throw bad();
    return { at_s: Number(match[1] ?? 0), value: checkedControl(name, Number(match[2])) };
  });
  for (let k = 1; k < course.length; k++) if (!(course[k]!.at_s > course[k - 1]!.at_s)) throw bad();
  return course;
}

/** Before its first instant a course has its first value. */
export function courseAt(course: Course, time_s: number): number {
  let value = course[0]?.value ?? 0;
  for (const step of course) if (step.at_s <= time_s + TICK_S / 2) value = step.value;
  return value;
}

export function controlsAt(script: BenchScript, time_s: number): BenchControls {
  const controls = { high_voltage: true } as BenchControls;
  for (const name of TURNED) controls[name] = courseAt(script.courses[name], time_s);
  return controls;
}

/** A tick of the trace; the samples are used again for the next: write or copy them. */
export interface TracePiece {
  samples: Float32Array;
  controls: BenchControls;
  pressure_bar: number;
}

export function* recordRun(bench: Bench, script: BenchScript): Generator<TracePiece, RecordedRun> {
  const samples = new Float32Array(bench.samplesPerTick);
  const run: RecordedRun = { levels: [], stretches: [] };
  const traceTicks = Math.round(script.trace_s / TICK_S);
  const ticks = Math.max(traceTicks, Math.round(script.run_s / TICK_S));
  const tally = stretchTally(run.stretches);
  for (let k = 0; k < ticks; k++) {
    const controls = controlsAt(script, k * TICK_S);
    const traced = k < traceTicks;
    const scan = bench.tick(controls, traced ? samples : undefined);
    if (scan) {
      // Scans that were not taken leave holes of their own length.
      const at = Math.round(scan.time_s / bench.scan_s);
      while (run.levels.length < at) run.levels.push(Number.NaN);
      run.levels.push(scan.level);
    }
    tally.add(bench);
    if (traced) yield { samples, controls, pressure_bar: bench.state.pressure_bar };
  }
  const whole = Math.floor((ticks * TICK_S) / bench.scan_s + 1e-6);
  while (run.levels.length < whole) run.levels.push(Number.NaN);
  tally.end();
  return run;
}

const SHORTEST_S = 0.1;

function stretchTally(list: Stretch[]) {
  let now: Stretch | undefined;
  let ticks = 0;
  let beats = 0;
  let beatSum = 0;
  // What came before the first stretch worth telling belongs to it.
  let skipped_s = 0;
  const end = () => {
    if (now === undefined) return;
    now.tip_V /= ticks;
    now.onset_V /= ticks;
    now.current_nA /= ticks;
    if (beats > 0) now.pulsation_Hz = beatSum / beats;
    const before = list.at(-1);
    const short = now.to_s - now.from_s < SHORTEST_S;
    if (before !== undefined && short) before.to_s = now.to_s;
    else if (short) skipped_s = now.to_s - now.from_s;
    else if (before?.regime === now.regime && before.jets === now.jets && before.corona === now.corona)
      before.to_s = now.to_s;
    else list.push(now);
    now = undefined;
  };
  const add = ({ state }: Bench) => {
    const { regime, jets, corona, time_s } = state;
    if (now?.regime !== regime || now.jets !== jets || now.corona !== corona) {
      end();
      now = {
        from_s: rounded(Math.max(0, time_s - TICK_S - skipped_s)),
        to_s: 0,
        regime,
        jets,
        corona,
        tip_V: 0,
        onset_V: 0,
        current_nA: 0,
        pulsation_Hz: undefined,
      };
      ticks = beats = beatSum = 0;
      skipped_s = 0;
    }
    now.to_s = rounded(time_s);
    now.tip_V += state.tip_V;
    now.onset_V += state.onset_V;
    now.current_nA += state.current_A * 1e9;
    ticks++;
    if (state.pulsation) {
      beats++;
      beatSum += state.pulsation.frequency_Hz;
    }
  };
  return { add, end };
}

function rounded(time_s: number): number {
  return Math.round(time_s * 1000) / 1000;
}
