/** One pass over a trace: its samples into the statistics of its windows, the same for command line and page. */
import { type CurrentStatistics, type CurrentStream, currentStream } from '../../core/signal/index.ts';
import type { TraceHead, TraceSink } from '../../formats/trace/index.ts';

export interface TracePassOptions {
  /** Length of the file, to guess its samples before it is read. */
  bytes: number;
  /** Chosen for the rate where not given. */
  window_s?: number | undefined;
  /** -1 turns the sign of the current. */
  sign: 1 | -1;
}

export interface TracePass {
  sink: TraceSink;
  end(): { head: TraceHead; statistics: CurrentStatistics };
}

/** Bytes of one sample of a table. */
const TABLE_BYTES = 18;
/** A window holds at least so many samples. */
const LEAST_SAMPLES = 24;
const SLOW_LOGGER_HZ = 5000;
const LOGGED_WINDOW_S = 0.05;
const LOGGED_SAMPLES = 64;

export function tracePass({ bytes, window_s, sign }: TracePassOptions): TracePass {
  let head: TraceHead | undefined;
  let stream: CurrentStream | undefined;
  return {
    sink: {
      head(found) {
        head = found;
        const { channels, rate_Hz, start_s } = found;
        // A logged voltage may be a walk: windows short against its steps.
        const logged = channels.some((c) => c.quantity === 'voltage') && rate_Hz <= SLOW_LOGGER_HZ;
        const short = logged ? Math.max(LOGGED_WINDOW_S, LOGGED_SAMPLES / rate_Hz) : undefined;
        const sampleBytes = found.kind === 'table' ? TABLE_BYTES : 2 * channels.length;
        stream = currentStream({
          rate_Hz,
          start_s,
          window_s: window_s === undefined ? short : Math.max(window_s, LEAST_SAMPLES / rate_Hz),
          expected_samples: bytes / sampleBytes,
        });
      },
      block({ current, count, gap_s, voltage }) {
        if (gap_s > 0) stream!.gap(gap_s);
        if (sign < 0) for (let k = 0; k < count; k++) current[k] = -current[k]!;
        stream!.push(current, count, voltage);
      },
    },
    end: () => ({ head: head!, statistics: stream!.end() }),
  };
}
