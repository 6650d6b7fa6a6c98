/** Pressure and flow chromatograms of mzML, kept as traces beside the rows. */
import type { Base64Text } from './base64.ts';
import { arrayValues } from './binary-array.ts';
import { type ArrayState, type Chromatogram, SECONDS_PER, storedArray } from './mzml-params.ts';
import type { RunBuilder } from './run-builder.ts';
import type { Inflate } from './run-record.ts';

/** Most traces kept, and most points in one: a day at 40 Hz. */
const MOST_TRACES = 16;
const LONGEST_TRACE = 4_000_000;

export function traceArray(
  chromatogram: Chromatogram,
  array: ArrayState,
  text: Base64Text,
  inflate: Inflate,
): void {
  const values = arrayValues(storedArray(array), text, inflate);
  if ('fault' in values || values.count > LONGEST_TRACE) return;
  const isTime = array.kind === 'time';
  const factor = isTime ? (SECONDS_PER[array.unit] ?? Number.NaN) : 1;
  const list = Float64Array.from({ length: values.count }, (_, i) => values.at(i) * factor);
  if (isTime) chromatogram.time = list;
  else {
    chromatogram.value = list;
    chromatogram.unit = array.unitName;
  }
}

export function endTrace(chromatogram: Chromatogram, { traces, tally }: RunBuilder): void {
  if (chromatogram.name === '') return;
  const { time, value, name, unit } = chromatogram;
  if (!time || !value || time.length !== value.length || time.some(Number.isNaN)) {
    tally.add('trace_unread');
    return;
  }
  if (traces.length >= MOST_TRACES) return;
  const same = traces.filter((trace) => trace.name === name || trace.name.startsWith(`${name} `)).length;
  traces.push({ name: same === 0 ? name : `${name} ${same + 1}`, unit, time_s: time, value });
}
