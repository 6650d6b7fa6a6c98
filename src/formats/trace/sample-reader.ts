/** Interleaved binary samples as bytes arrive, into blocks: used by WAV and raw files. */
import { type InputError, inputError } from '../../core/errors.ts';
import type { SampleFormat } from './sample-formats.ts';
import type { TraceQuantity, TraceSink } from './trace-record.ts';
import { BLOCK_SAMPLES } from './trace-record.ts';

export interface SampleChannel {
  quantity: TraceQuantity;
  /** Place in the frame, in samples. */
  at: number;
  /** SI value = stored * scale + offset. */
  scale: number;
  offset: number;
}

export interface SampleReader {
  push(bytes: Uint8Array): void;
  end(): { samples: number; missing: number; left: number };
}

export function sampleReader(
  format: SampleFormat,
  frame: number,
  channels: readonly SampleChannel[],
  rate_Hz: number,
  sink: TraceSink,
): SampleReader {
  const step = format.bytes * frame;
  const arrays = channels.map(() => new Float64Array(BLOCK_SAMPLES));
  const of = (quantity: TraceQuantity) => arrays[channels.findIndex((c) => c.quantity === quantity)];
  const currentAt = channels.findIndex((c) => c.quantity === 'current');
  const [current, voltage, pressure] = [of('current')!, of('voltage'), of('pressure')];
  let rest = new Uint8Array(0);
  let count = 0;
  let emitted = 0;
  let missing = 0;

  function flush(): void {
    if (count === 0) return;
    sink.block({
      first: emitted,
      count,
      start_s: emitted / rate_Hz,
      gap_s: 0,
      current,
      ...(voltage ? { voltage } : {}),
      ...(pressure ? { pressure } : {}),
    });
    emitted += count;
    count = 0;
  }

  return {
    push(chunk) {
      let bytes = chunk;
      if (rest.length > 0) {
        bytes = new Uint8Array(rest.length + chunk.length);
        bytes.set(rest);
        bytes.set(chunk, rest.length);
      }
      const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
      const frames = Math.floor(bytes.length / step);
      let done = 0;
      while (done < frames) {
        const batch = Math.min(frames - done, BLOCK_SAMPLES - count);
        for (let c = 0; c < channels.length; c++) {
          const { at, scale, offset } = channels[c]!;
          const to = arrays[c]!;
          let from = done * step + at * format.bytes;
          for (let k = 0; k < batch; k++, from += step)
            to[count + k] = format.read(view, from) * scale + offset;
        }
        const values = arrays[currentAt]!;
        for (let k = count; k < count + batch; k++) {
          if (Number.isFinite(values[k]!)) continue;
          values[k] = Number.NaN;
          missing++;
        }
        count += batch;
        done += batch;
        if (count === BLOCK_SAMPLES) flush();
      }
      rest = bytes.slice(frames * step);
    },
    end() {
      flush();
      return { samples: emitted, missing, left: rest.length };
    },
  };
}

/** What a file ends with that is no whole sample. */
export function oddBytes(count: number): string {
  return `the last ${count} byte${count === 1 ? ' is' : 's are'} no whole sample`;
}

/** Fewer are no trace. */
export const LEAST_SAMPLES = 2;

export function tooFewSamples(samples: number, header_bytes = 0): InputError {
  const found = `${samples} sample${samples === 1 ? '' : 's'}`;
  return inputError(
    'missing',
    'samples',
    header_bytes > 0 ? `${found} behind ${header_bytes} header bytes` : found,
    `at least ${LEAST_SAMPLES}`,
  );
}
