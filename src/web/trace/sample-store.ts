/**
 * Any view of a trace: from its table of lowest and highest, and where that is too coarse from the samples themselves. A trace of
 * moderate length keeps them; a longer one of binary samples reads the stretch shown from its file again.
 */
import type { Pyramid } from '../../core/signal/current-pyramid.ts';
import { type StoredSamples, storedBytes, storedValues } from '../../formats/trace/index.ts';

/** 16 MB of single precision, where the file can be read again by its places. */
const KEPT_OF_STORED = 1 << 22;
/** 128 MB, where it cannot; a longer trace is shown down to the finest stretch of its table. */
const KEPT_OF_TABLE = 1 << 25;
const PIECE = 1 << 20;
/** Up to this many samples for each column the samples themselves are drawn. */
const SAMPLES_PER_COLUMN = 2;

export type TraceView =
  | { kind: 'stretches'; first: number; samples: number; low: Float32Array; high: Float32Array }
  | { kind: 'samples'; first: number; values: Float32Array };

/** The samples [first, end). */
export type SampleSource = (first: number, end: number) => Float32Array | Promise<Float32Array>;

export interface KeptSamples {
  push(samples: Float64Array, count: number): void;
  /** Undefined where they did not fit. */
  source(): SampleSource | undefined;
}

export function roomFor(stored: StoredSamples | undefined): number {
  return stored === undefined ? KEPT_OF_TABLE : KEPT_OF_STORED;
}

export function keptSamples(most: number): KeptSamples {
  let pieces: Float32Array[] | undefined = [];
  let samples = 0;
  return {
    push(from, count) {
      if (pieces === undefined) return;
      if (samples + count > most) {
        pieces = undefined;
        return;
      }
      for (let done = 0; done < count; ) {
        const inside = (samples + done) % PIECE;
        if (inside === 0) pieces.push(new Float32Array(PIECE));
        const batch = Math.min(count - done, PIECE - inside);
        pieces.at(-1)!.set(from.subarray(done, done + batch), inside);
        done += batch;
      }
      samples += count;
    },
    source() {
      const kept = pieces;
      return kept && ((first, end) => joined(kept, first, end));
    },
  };
}

export function fileSource(file: Blob, stored: StoredSamples, sign: 1 | -1): SampleSource {
  return async (first, end) => {
    const bytes = storedBytes(stored, first, end);
    return storedValues(stored, await file.slice(bytes.start, bytes.end).arrayBuffer(), sign);
  };
}

export interface SampleStore {
  /** Samples of the finest view. */
  readonly finest: number;
  view(from: number, to: number, columns: number): Promise<TraceView>;
}

export function sampleStore(table: Pyramid, source: SampleSource | undefined): SampleStore {
  return {
    finest: source === undefined ? table.finest : 1,
    async view(from, to, columns) {
      const first = Math.max(0, Math.floor(from));
      const end = Math.max(first, Math.min(table.samples, Math.ceil(to)));
      const each = (end - first) / Math.max(1, columns);
      if (source === undefined || (each > SAMPLES_PER_COLUMN && each >= table.finest))
        return { kind: 'stretches', ...table.view(first, end, columns) };
      const values = await source(first, end);
      return each <= SAMPLES_PER_COLUMN
        ? { kind: 'samples', first, values }
        : thinned(values, first, columns);
    },
  };
}

function joined(pieces: readonly Float32Array[], first: number, end: number): Float32Array {
  const values = new Float32Array(end - first);
  for (let at = first; at < end; ) {
    const inside = at % PIECE;
    const batch = Math.min(end - at, PIECE - inside);
    values.set(pieces[Math.floor(at / PIECE)]!.subarray(inside, inside + batch), at - first);
    at += batch;
  }
  return values;
}

/** Lowest and highest of each column straight from the samples. */
function thinned(values: Float32Array, first: number, columns: number): TraceView {
  const each = Math.max(1, Math.ceil(values.length / Math.max(1, columns)));
  const count = Math.ceil(values.length / each);
  const low = new Float32Array(count).fill(Number.NaN);
  const high = new Float32Array(count).fill(Number.NaN);
  for (let k = 0; k < count; k++) {
    let least = Number.NaN;
    let most = Number.NaN;
    for (let at = k * each; at < Math.min(values.length, (k + 1) * each); at++) {
      const value = values[at]!;
      // The comparison is false beside NaN, so a missing sample changes nothing and a first one always enters.
      if (!(value >= least) && !Number.isNaN(value)) least = value;
      if (!(value <= most) && !Number.isNaN(value)) most = value;
    }
    low[k] = least;
    high[k] = most;
  }
  return { kind: 'stretches', first, samples: each, low, high };
}
