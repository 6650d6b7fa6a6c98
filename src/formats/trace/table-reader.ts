/**
 * Tables of samples (CSV, TSV) as bytes arrive. The first lines settle the layout and, where a time column stands, the rate:
 * the mean of the steps near their median over the first rows. Later rows that are late by more than 2.5 sample times
 * begin after a gap; shorter jitter is evened out. Where several samples share one printed time, the rate is their number over the printed steps, and
 * a gap is told against those. Lines that cannot be read are counted and become missing samples.
 */
import { inputError } from '../../core/errors.ts';
import { clockReader } from './clock-times.ts';
import { NO_NUMBER, numberAt } from './number-bytes.ts';
import { type TableColumns, tableColumns } from './table-columns.ts';
import { type TableLayout, tableLayout } from './table-layout.ts';
import { GAP_STEPS, sampling } from './table-sampling.ts';
import {
  BLOCK_SAMPLES,
  GAPS_LISTED,
  type TraceBlock,
  type TraceChannel,
  type TraceEnd,
  type TraceOptions,
  type TraceReader,
  type TraceSink,
} from './trace-record.ts';
import { linesOf, textOf } from './trace-text.ts';

/** Bytes looked at before the layout is settled, and rows before the rate is. */
const LAYOUT_BYTES = 1 << 15;
const RATE_ROWS = 4096;
const LONGEST_LINE = 1 << 16;
/** Seconds counted from a far day (1970 or so) are told from the first sample: 3 years. */
const FAR_S = 1e8;

interface Wanted {
  time: number;
  current: number;
  voltage: number;
  pressure: number;
}

export function tableReader(options: TraceOptions, sink: TraceSink): TraceReader {
  let head: Uint8Array | undefined = new Uint8Array(0);
  let rest = new Uint8Array(0);
  let layout: TableLayout | undefined;
  let columns: TableColumns | undefined;
  let wanted: Wanted = { time: -1, current: -1, voltage: -1, pressure: -1 };
  let skip = 0;
  let line = 0;
  let samples = 0;
  let missing = 0;
  let badLines = 0;
  let firstBad: TraceEnd['first_bad_line'];
  let rate = options.rate_Hz ?? 0;
  let known = false;
  let begun = Number.NaN;
  let last = Number.NaN;
  let backwards = 0;
  let repeats = 0;
  /** Sample time, or the step of the printed times where that is longer [s]. */
  let beat_s = 0;
  let origin_s = 0;
  const clocks = clockReader();
  const gaps: TraceEnd['gaps'] = [];
  let gapCount = 0;
  const warnings: string[] = [];
  const times = new Float64Array(BLOCK_SAMPLES);
  const current = new Float64Array(BLOCK_SAMPLES);
  let voltage: Float64Array | undefined;
  let pressure: Float64Array | undefined;
  let count = 0;
  let emitted = 0;
  let blockStart = 0;
  let gapBefore = 0;

  function settle(bytes: Uint8Array, whole: boolean): void {
    layout = tableLayout(linesOf(bytes, whole), options);
    columns = tableColumns(layout, options);
    wanted = {
      time: columns.time?.index ?? -1,
      current: columns.current.index,
      voltage: columns.voltage?.index ?? -1,
      pressure: columns.pressure?.index ?? -1,
    };
    skip = layout.lines_before;
    if (columns.voltage) voltage = new Float64Array(BLOCK_SAMPLES);
    if (columns.pressure) pressure = new Float64Array(BLOCK_SAMPLES);
    if (wanted.time < 0) announce('given', 0);
  }

  function announce(from: 'given' | 'time column', start_s: number): void {
    known = true;
    blockStart = start_s;
    const c = columns!;
    const channel = (quantity: TraceChannel['quantity'], column: TableColumns['current']): TraceChannel => ({
      quantity,
      name: column.name,
      unit: column.unit,
      scale: column.scale,
    });
    sink.head({
      kind: 'table',
      rate_Hz: rate,
      rate_from: from,
      start_s,
      channels: [
        channel('current', c.current),
        ...(c.voltage ? [channel('voltage', c.voltage)] : []),
        ...(c.pressure ? [channel('pressure', c.pressure)] : []),
      ],
      invented: layout!.invented,
      notes: c.notes,
    });
  }

  function row(bytes: Uint8Array, from: number, to: number): void {
    const { delimiter, decimal } = layout!;
    let at = from;
    let column = 0;
    let bad = false;
    let time = Number.NaN;
    let i = Number.NaN;
    let v = Number.NaN;
    let p = Number.NaN;
    if (delimiter === 32) while (at < to && (bytes[at] === 32 || bytes[at] === 9)) at++;
    while (at <= to) {
      let end = at;
      while (end < to && bytes[end] !== delimiter && !(delimiter === 32 && bytes[end] === 9)) end++;
      if (
        column === wanted.current ||
        column === wanted.time ||
        column === wanted.voltage ||
        column === wanted.pressure
      ) {
        const value =
          column === wanted.time && columns!.time!.clock
            ? (clocks.at(textOf(bytes.subarray(at, end))) ?? NO_NUMBER)
            : numberAt(bytes, at, end, decimal);
        if (value === NO_NUMBER) bad = true;
        else if (column === wanted.current) i = value;
        else if (column === wanted.time) time = value;
        else if (column === wanted.voltage) v = value;
        else p = value;
      }
      column++;
      at = end + 1;
      if (delimiter === 32) while (at < to && (bytes[at] === 32 || bytes[at] === 9)) at++;
      if (end === to || (at >= to && delimiter === 32)) break;
    }
    if (bad || column < layout!.columns || column > layout!.columns + 1) {
      badLines++;
      firstBad ??= {
        line: line + 1,
        text: textOf(bytes.subarray(from, Math.min(to, from + 60))),
      };
      i = Number.NaN;
    }
    if (wanted.time >= 0) {
      time *= columns!.time!.scale;
      if (Number.isNaN(begun) && time > FAR_S) {
        origin_s = time;
        columns!.notes.push(`times are counted from the first sample, which stands at ${time} s`);
      }
      time -= origin_s;
      if (Number.isNaN(time)) time = known ? last + 1 / rate : last;
      else if (time === last) repeats++;
      if (known) stepTo(time, time - last);
      if (Number.isNaN(begun)) begun = time;
      last = time;
    }
    times[count] = time;
    current[count] = i * columns!.current.scale;
    if (voltage) voltage[count] = v * columns!.voltage!.scale;
    if (pressure) pressure[count] = p * columns!.pressure!.scale;
    if (Number.isNaN(i)) missing++;
    count++;
    samples++;
    if (!known && count >= RATE_ROWS) settleRate();
    if (count === BLOCK_SAMPLES) flush();
  }

  /** Before a row of this time is taken: does a new stretch begin with it? */
  function stepTo(time_s: number, step_s: number): void {
    if (step_s < -0.5 / rate) {
      backwards++;
      flush();
      blockStart = time_s;
    } else if (step_s > GAP_STEPS * beat_s) gap(step_s - beat_s, time_s);
  }

  function tooFew() {
    return inputError(
      'missing',
      'samples',
      `${samples} row${samples === 1 ? '' : 's'} of numbers`,
      'at least two',
    );
  }

  function gap(length_s: number, resume_s: number): void {
    flush();
    gapCount++;
    if (gaps.length < GAPS_LISTED) gaps.push({ at_s: resume_s - length_s, length_s });
    gapBefore = length_s;
    blockStart = resume_s;
  }

  function flush(): void {
    if (count === 0) return;
    const block: TraceBlock = { first: emitted, count, start_s: blockStart, gap_s: gapBefore, current };
    if (voltage) block.voltage = voltage;
    if (pressure) block.pressure = pressure;
    sink.block(block);
    emitted += count;
    blockStart += count / rate;
    gapBefore = 0;
    count = 0;
  }

  /** The rows held back so far are handed on once the rate is known, parted at gaps. */
  function settleRate(): void {
    if (samples < 2) throw tooFew();
    const { rate_Hz: found, printed_s } = sampling(times, count);
    const given = options.rate_Hz;
    if (found === undefined && given === undefined) {
      const { name } = columns!.time!;
      throw inputError(
        'invalid',
        'time column',
        printed_s > 0
          ? `"${name}" repeats each time for many samples and so tells no rate`
          : `"${name}" does not rise`,
        'rising times, another --time-column, or --rate in samples per second',
      );
    }
    const apart = given !== undefined && !(found !== undefined && Math.abs(found / given - 1) <= 0.01);
    if (apart && found !== undefined)
      warnings.push(
        `the time column says ${Number(found.toPrecision(4))} samples per second, --rate says ${given}: the given rate is used; check the unit of the time column`,
      );
    rate = given ?? found!;
    // Times that say another rate tell no gaps.
    beat_s = apart ? Number.POSITIVE_INFINITY : Math.max(1 / rate, printed_s);
    if (columns!.time!.clock)
      columns!.notes.push(`times are counted from the first sample, at ${clocks.first()}`);
    announce(given === undefined ? 'time column' : 'given', times[0]!);
    const held = count;
    const copies = [times, current, voltage, pressure].map((a) => a?.slice(0, held));
    count = 0;
    for (let k = 0; k < held; k++) {
      const time = copies[0]![k]!;
      if (k > 0) stepTo(time, time - copies[0]![k - 1]!);
      current[count] = copies[1]![k]!;
      if (voltage) voltage[count] = copies[2]![k]!;
      if (pressure) pressure[count] = copies[3]![k]!;
      count++;
    }
  }

  function lines(bytes: Uint8Array): Uint8Array {
    let from = 0;
    const length = bytes.length;
    for (;;) {
      let to = from;
      while (to < length && bytes[to] !== 10 && bytes[to] !== 13) to++;
      if (to === length || (to + 1 === length && bytes[to] === 13)) break;
      if (line >= skip) {
        if (to > from && !isComment(bytes, from, to)) row(bytes, from, to);
      }
      line++;
      from = to + 1;
      if (bytes[to] === 13 && bytes[from] === 10) from++;
    }
    return bytes.subarray(from);
  }

  function take(bytes: Uint8Array): void {
    rest = lines(rest.length === 0 ? bytes : joined(rest, bytes)).slice();
    if (rest.length > LONGEST_LINE)
      throw inputError(
        'invalid',
        'trace table',
        `line ${line + 1} is longer than 64 kB`,
        'a line of text for each sample',
      );
  }

  function begin(whole: boolean): void {
    const first = head!;
    head = undefined;
    const mark = first[0] === 0xef && first[1] === 0xbb && first[2] === 0xbf ? 3 : 0;
    const bytes = first.subarray(mark);
    settle(bytes, whole);
    take(bytes);
  }

  return {
    push(bytes) {
      if (head === undefined) return take(bytes);
      head = joined(head, bytes);
      if (head.length < LAYOUT_BYTES) return;
      begin(false);
    },
    end() {
      if (head !== undefined) {
        begin(true);
      }
      if (rest.length > 0) take(Uint8Array.of(10));
      if (!known) settleRate();
      flush();
      if (samples < 2) throw tooFew();
      if (backwards > 0)
        warnings.push(`time runs backwards ${backwards} times: each time a new stretch begins there`);
      if (repeats > 0)
        warnings.push(
          `${repeats} of ${samples} samples bear the time of the one before (times printed too coarsely, or rows doubled): the rate is a mean over the first rows`,
        );
      const end: TraceEnd = { samples, missing, gaps, gap_count: gapCount, bad_lines: badLines, warnings };
      if (firstBad) end.first_bad_line = firstBad;
      return end;
    },
  };
}

function isComment(bytes: Uint8Array, from: number, to: number): boolean {
  let at = from;
  while (at < to && (bytes[at] === 32 || bytes[at] === 9)) at++;
  if (at === to) return true;
  const byte = bytes[at];
  return byte === 35 || byte === 37 || byte === 33;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(a.length + b.length);
  all.set(a);
  all.set(b, a.length);
  return all;
}
