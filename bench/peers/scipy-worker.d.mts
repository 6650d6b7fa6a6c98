export function spectrogram(
  samples: Float32Array,
  from: number,
  to: number,
  size: number,
  rate: number,
  out: Float32Array,
  row: number,
): void;
export function statistics(
  samples: Float32Array,
  from: number,
  to: number,
  window: number,
): { sds: number; q75: number };
