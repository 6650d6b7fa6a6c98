/** One pass over a trace: its samples into the statistics of its windows, the same for command line and page. */
import { inputError } from '../../core/errors.ts';
import {
  type BesideTally,
  besideTally,
  type CurrentStatistics,
  type CurrentStream,
  currentStream,
  windowFor,
} from '../../core/signal/index.ts';
import type { TraceHead, TraceSink } from '../../formats/trace/index.ts';

export interface TracePassOptions {
  /** Length of the file, to guess its samples before it is read. */
  bytes: number;
  /** Chosen for the rate where not given. */
  window_s?: number | undefined;
  /** The chosen window is no longer: the steps of a walk need it. */
  longest_s?: number | undefined;
  /** Of the same file and sign: slow copy and table for drawing are taken from there. */
  earlier?: CurrentStatistics | undefined;
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

export function tracePass({ bytes, window_s, longest_s, earlier, sign }: TracePassOptions): TracePass {
  let head: TraceHead | undefined;
  let stream: CurrentStream | undefined;
  let beside: BesideTally | undefined;
  return {
    sink: {
      head(found) {
        head = found;
        const { channels, rate_Hz, start_s } = found;
        // A logged voltage may be a walk: windows short against its steps.
        const logged = channels.some((c) => c.quantity === 'voltage') && rate_Hz <= SLOW_LOGGER_HZ;
        const short = logged ? Math.max(LOGGED_WINDOW_S, LOGGED_SAMPLES / rate_Hz) : undefined;
        if (channels.some((c) => c.quantity === 'pressure')) beside = besideTally(rate_Hz);
        const expected_samples = bytes / (found.stored?.frame_bytes ?? TABLE_BYTES);
        const wanted =
          window_s ??
          (longest_s === undefined
            ? undefined
            : Math.min(longest_s, short ?? windowFor(rate_Hz, expected_samples)));
        stream = currentStream({
          rate_Hz,
          start_s,
          window_s: wanted === undefined ? short : Math.max(wanted, LEAST_SAMPLES / rate_Hz),
          expected_samples,
          earlier,
        });
      },
      block({ current, count, gap_s, voltage, pressure }) {
        if (gap_s > 0) stream!.gap(gap_s);
        if (sign < 0) for (let k = 0; k < count; k++) current[k] = -current[k]!;
        stream!.push(current, count, voltage);
        if (pressure) beside?.push(current, pressure, count);
      },
    },
    end() {
      const statistics = { ...stream!.end(), pressure: beside?.end() };
      if (statistics.windows.length === 0) throw noWindow(statistics);
      return { head: head!, statistics };
    },
  };
}

/** A trace that fills no window says nothing. */
function noWindow({ samples, missing, rate_Hz }: CurrentStatistics) {
  const numbers = samples - missing;
  const count = `${numbers} sample${numbers === 1 ? '' : 's'} with a number`;
  return inputError(
    'missing',
    'samples',
    missing > 0 ? `${count} among ${samples}` : `${count}, ${Number((samples / rate_Hz).toPrecision(2))} s`,
    `at least ${LEAST_SAMPLES} together, so that something can be told`,
  );
}
