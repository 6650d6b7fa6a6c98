/**
 * Pressure and flow chromatograms of mzML, kept as traces beside the rows. A trace that is not whole (times and values of equal
 * length, all of them numbers, times that do not run backward) is left out and told.
 */
import type { Base64Text } from './base64.ts';
import { arrayValues, type Unpack } from './binary-array.ts';
import { type ArrayState, type Chromatogram, SECONDS_PER, storedArray } from './mzml-params.ts';
import type { RunBuilder } from './run-builder.ts';
import type { WarningKey } from './warning-tally.ts';

const MOST_TRACES = 16;
/** Most points of all traces together: a day at 40 Hz. */
const MOST_POINTS = 4_000_000;

export function traceArray(
  chromatogram: Chromatogram,
  array: ArrayState,
  text: Base64Text,
  unpack: Unpack,
): void {
  const values = arrayValues(storedArray(array), text, unpack);
  if (chromatogram.name === '') chromatogram.name = array.trace;
  const isTime = array.kind === 'time';
  const factor = isTime ? SECONDS_PER[array.unit] : 1;
  if ('fault' in values || values.count > MOST_POINTS || factor === undefined) return;
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
  if (!time || !value || time.length !== value.length) {
    tally.add('trace_unread');
    return;
  }
  const kept = traces.reduce((points, trace) => points + trace.value.length, 0);
  const fault = traceFault(time, value);
  if (fault !== undefined || traces.length >= MOST_TRACES || kept + value.length > MOST_POINTS) {
    tally.add(fault ?? 'trace_surplus');
    return;
  }
  if (unit === '') tally.add('trace_unit');
  const same = traces.filter((trace) => trace.name === name || trace.name.startsWith(`${name} `)).length;
  traces.push({ name: same === 0 ? name : `${name} ${same + 1}`, unit, time_s: time, value });
}

function traceFault(time: Float64Array, value: Float64Array): WarningKey | undefined {
  for (let i = 0; i < time.length; i += 1) {
    if (!Number.isFinite(time[i]!) || !Number.isFinite(value[i]!)) return 'trace_value';
    if (i > 0 && time[i]! < time[i - 1]!) return 'trace_backward';
  }
  return undefined;
}
