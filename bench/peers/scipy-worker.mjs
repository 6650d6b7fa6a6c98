// Our side of the current benchmark over one part of the samples, in the main thread or in a worker.
import { isMainThread, parentPort } from 'node:worker_threads';
import { powerPlan } from '../../dist/core/signal/current-fft.js';
import { quantileFinder } from '../../dist/core/signal/current-quantiles.js';

/** Non-overlapping Hann periodograms of float32 samples from sample `from` to `to`, rows into `out` from row `row`. */
export function spectrogram(samples, from, to, size, rate, out, row) {
  const plan = powerPlan(size, rate);
  const bins = size / 2 + 1;
  const sum = new Float64Array(bins);
  for (let at = from; at + size <= to; at += size, row++) {
    sum.fill(0);
    plan.add(samples, at, meanOf(samples, at, size), sum);
    out.set(sum, row * bins);
  }
}

/** Four sums side by side: each addition then waits for none of the others. */
function meanOf(samples, from, size) {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  for (let k = from; k < from + size; k += 4) {
    a += samples[k];
    b += samples[k + 1];
    c += samples[k + 2];
    d += samples[k + 3];
  }
  return (a + b + c + d) / size;
}

/** Mean, sd, min, max and seven quantiles of each window; sums of sd and of the upper quartile come back for the check. */
export function statistics(samples, from, to, window) {
  const finder = quantileFinder();
  const part = new Float64Array(window);
  let sds = 0;
  let q75 = 0;
  for (let at = from; at + window <= to; at += window) {
    let low = Infinity;
    let high = -Infinity;
    let mean = 0;
    for (let k = 0; k < window; k++) {
      const x = samples[at + k];
      part[k] = x;
      mean += x;
      if (x < low) low = x;
      if (x > high) high = x;
    }
    mean /= window;
    let second = 0;
    for (let k = 0; k < window; k++) second += (part[k] - mean) ** 2;
    sds += Math.sqrt(second / window);
    q75 += finder.find(part, window, low, high).q75;
  }
  return { sds, q75 };
}

if (!isMainThread && parentPort) {
  parentPort.on('message', ({ kind, shared, outShared, from, to, size, rate, row }) => {
    const samples = new Float32Array(shared);
    const result =
      kind === 'spectrogram'
        ? spectrogram(samples, from, to, size, rate, new Float32Array(outShared), row)
        : statistics(samples, from, to, size);
    parentPort.postMessage(result ?? null);
  });
}
