/** The spectrogram of a trace, small enough to keep: each window's density over bins that widen by an equal factor. */

/** Spectra on frequency bins that widen by an equal factor. */
export interface Spectrogram {
  /** Middles of the bins [Hz]. */
  frequency_Hz: Float64Array;
  /** Row after row, one for each window: ln of density [units²/Hz]. */
  rows: Float32Array;
}

export interface Bands {
  frequency_Hz: Float64Array;
  /** ln of the mean density of each band. */
  row(density: Float64Array): Float32Array;
}

const SPECTRAL_BINS = 72;

/** For a density of `bins` bins, `step_Hz` wide. */
export function bandsOf(bins: number, step_Hz: number): Bands {
  const edges = [1];
  const factor = Math.max(1.0001, (bins - 1) ** (1 / SPECTRAL_BINS));
  let edge = 1;
  while (edges.at(-1)! < bins) {
    edge *= factor;
    edges.push(Math.min(bins, Math.max(edges.at(-1)! + 1, Math.round(edge))));
  }
  const frequency_Hz = Float64Array.from(
    { length: edges.length - 1 },
    (_, k) => ((edges[k]! + edges[k + 1]! - 1) / 2) * step_Hz,
  );
  return {
    frequency_Hz,
    row(density) {
      const row = new Float32Array(frequency_Hz.length);
      for (let b = 0; b < row.length; b++) {
        let sum = 0;
        for (let k = edges[b]!; k < edges[b + 1]!; k++) sum += density[k]!;
        row[b] = Math.log(Math.max(1e-300, sum / (edges[b + 1]! - edges[b]!)));
      }
      return row;
    },
  };
}
