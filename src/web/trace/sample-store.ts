/** Any view of a trace: from its table of lowest and highest, and from the samples themselves while they fit. */
import type { Pyramid } from '../../core/signal/current-pyramid.ts';

/** 256 MB of single precision; a longer trace is shown down to the finest stretch of its table. */
const KEPT_SAMPLES = 1 << 26;
const PIECE = 1 << 20;
/** Up to this many samples for each column the samples themselves are drawn. */
const SAMPLES_PER_COLUMN = 2;

export type TraceView =
  | { kind: 'stretches'; first: number; samples: number; low: Float32Array; high: Float32Array }
  | { kind: 'samples'; first: number; values: Float32Array };

export interface KeptSamples {
  push(samples: Float64Array, count: number): void;
  /** Undefined where they did not fit. */
  pieces(): readonly Float32Array[] | undefined;
}

export function keptSamples(most = KEPT_SAMPLES): KeptSamples {
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
    pieces: () => pieces,
  };
}

export interface SampleStore {
  readonly samples: number;
  /** Samples of the finest view. */
  readonly finest: number;
  view(from: number, to: number, columns: number): TraceView;
}

export function sampleStore(kept: KeptSamples, table: Pyramid): SampleStore {
  const pieces = kept.pieces();
  const { samples } = table;
  return {
    samples,
    finest: pieces === undefined ? table.finest : 1,
    view(from, to, columns) {
      const first = Math.max(0, Math.floor(from));
      const end = Math.min(samples, Math.ceil(to));
      const each = (end - first) / Math.max(1, columns);
      if (pieces !== undefined && each <= SAMPLES_PER_COLUMN)
        return { kind: 'samples', first, values: slice(pieces, first, end) };
      if (pieces !== undefined && each < table.finest) return thinned(pieces, first, end, columns);
      return { kind: 'stretches', ...table.view(first, end, columns) };
    },
  };
}

function slice(pieces: readonly Float32Array[], first: number, end: number): Float32Array {
  const values = new Float32Array(Math.max(0, end - first));
  for (let k = 0; k < values.length; k++) {
    const at = first + k;
    values[k] = pieces[Math.floor(at / PIECE)]![at % PIECE]!;
  }
  return values;
}

/** Lowest and highest of each column straight from the samples, where the table is too coarse. */
function thinned(pieces: readonly Float32Array[], first: number, end: number, columns: number): TraceView {
  const each = Math.max(1, Math.ceil((end - first) / Math.max(1, columns)));
  const count = Math.ceil((end - first) / each);
  const low = new Float32Array(count).fill(Number.NaN);
  const high = new Float32Array(count).fill(Number.NaN);
  for (let at = first; at < end; at++) {
    const value = pieces[Math.floor(at / PIECE)]![at % PIECE]!;
    const k = Math.floor((at - first) / each);
    // The comparison is false beside NaN, so a missing sample changes nothing and a first one always enters.
    if (!(value >= low[k]!) && !Number.isNaN(value)) low[k] = value;
    if (!(value <= high[k]!) && !Number.isNaN(value)) high[k] = value;
  }
  return { kind: 'stretches', first, samples: each, low, high };
}
