/** The samples of a trace as they arrive: a table of lowest and highest for any view, and the samples themselves while they fit. */
import { type Pyramid, pyramidBuilder } from '../../core/signal/current-pyramid.ts';

/** 256 MB of single precision; a longer trace is shown down to the finest stretch of its table. */
const KEPT_SAMPLES = 1 << 26;
const PIECE = 1 << 20;
/** Up to this many samples for each column the samples themselves are drawn. */
const SAMPLES_PER_COLUMN = 2;

export type TraceView =
  | { kind: 'stretches'; first: number; samples: number; low: Float32Array; high: Float32Array }
  | { kind: 'samples'; first: number; values: Float32Array };

export interface SampleStore {
  push(samples: Float64Array, count: number): void;
  end(): void;
  readonly samples: number;
  /** Samples of the finest view. */
  finest(): number;
  view(from: number, to: number, columns: number): TraceView;
}

export function sampleStore(kept = KEPT_SAMPLES): SampleStore {
  const builder = pyramidBuilder();
  let pieces: Float32Array[] | undefined = [];
  let samples = 0;
  let table: Pyramid | undefined;
  function keep(from: Float64Array, count: number): void {
    if (pieces === undefined) return;
    if (samples + count > kept) {
      pieces = undefined;
      return;
    }
    let done = 0;
    while (done < count) {
      const at = samples + done;
      const inside = at % PIECE;
      if (inside === 0) pieces.push(new Float32Array(PIECE));
      const batch = Math.min(count - done, PIECE - inside);
      const piece = pieces.at(-1)!;
      for (let k = 0; k < batch; k++) piece[inside + k] = from[done + k]!;
      done += batch;
    }
  }
  return {
    push(from, count) {
      keep(from, count);
      samples += count;
      builder.push(from, count);
    },
    end() {
      table = builder.end();
    },
    get samples() {
      return samples;
    },
    finest: () => (pieces === undefined ? (table?.finest ?? 1) : 1),
    view(from, to, columns) {
      const first = Math.max(0, Math.floor(from));
      const end = Math.min(samples, Math.ceil(to));
      const each = (end - first) / Math.max(1, columns);
      if (pieces !== undefined && each <= SAMPLES_PER_COLUMN)
        return { kind: 'samples', first, values: slice(pieces, first, end) };
      if (pieces !== undefined && table !== undefined && each < table.finest)
        return thinned(pieces, first, end, columns);
      return { kind: 'stretches', ...table!.view(first, end, columns) };
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
