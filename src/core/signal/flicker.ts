/**
 * Stretches in which a series scatters more than it usually does: root mean square of the deviations from a slow course
 * in windows of two lengths, against the median of all windows of that length. Deviations are cut, so that one dropout
 * is no flicker. A series that flickers from end to end has no quiet part to compare with: only its scatter tells.
 */
import { madSigma, median } from '../numeric/robust.ts';
import { slowMedian } from './running-quantile.ts';

export interface FlickerStretch {
  first: number;
  past: number;
  /** Scatter inside and usually. */
  scatter: number;
  usual: number;
}

/** Windows [samples] and how many times the usual scatter one has to show: about six standard errors 1 / sqrt(2 n). */
const WINDOWS = [
  { samples: 24, times: 2.1 },
  { samples: 48, times: 1.7 },
  { samples: 144, times: 1.4 },
] as const;
/** The usual scatter needs so many windows' time. */
const QUIET_WINDOWS = 4;
const COURSE_S = 45;
const COURSE_SAMPLES = 31;
const CUT_SIGMAS = 5;

/** `error` is what each sample's own estimate scatters by: more of that is no flicker. */
export function flickerStretches(
  time_s: ArrayLike<number>,
  value: ArrayLike<number>,
  error: ArrayLike<number>,
): FlickerStretch[] {
  const n = value.length;
  const course = slowMedian(time_s, value, COURSE_S / 2, COURSE_SAMPLES);
  const off = Float64Array.from({ length: n }, (_, i) => value[i]! - course[i]!);
  const sigma = madSigma(off);
  if (!(sigma > 0)) return [];
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const cut = Math.min(CUT_SIGMAS * sigma, Math.abs(off[i]!));
    sums[i + 1] = sums[i]! + Math.max(0, cut * cut - error[i]! * error[i]!);
  }
  const found: FlickerStretch[] = [];
  // The course is no longer asked: its memory takes the scatter of each window's length.
  const room = course;
  for (const { samples, times } of WINDOWS) {
    if (n < QUIET_WINDOWS * samples) break;
    const scatter = room.subarray(0, n - samples + 1);
    for (let i = 0; i < scatter.length; i++)
      scatter[i] = Math.sqrt((sums[i + samples]! - sums[i]!) / samples);
    const usual = median(scatter);
    for (let i = 0; i < scatter.length; i++) {
      if (!(scatter[i]! > times * usual)) continue;
      let past = i;
      let most = 0;
      for (; past < scatter.length && scatter[past]! > times * usual; past++) {
        most = Math.max(most, scatter[past]!);
      }
      const last = past - 1 + samples;
      const overlapping = found.find((other) => other.first < last && i < other.past);
      if (overlapping) {
        overlapping.first = Math.min(overlapping.first, i);
        overlapping.past = Math.max(overlapping.past, last);
        if (most / usual > overlapping.scatter / overlapping.usual) {
          overlapping.scatter = most;
          overlapping.usual = usual;
        }
      } else found.push({ first: i, past: last, scatter: most, usual });
      i = past;
    }
  }
  return found.sort((a, b) => a.first - b.first);
}
