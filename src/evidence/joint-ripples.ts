/**
 * Ripples that the ions of two kinds of scans taken in turn show together: their common jumps, in the middle between the two scans of each,
 * make one series of twice the pace; both kinds' jumps pass a ripple alike. Each value is weighted by what its scatter allows.
 * A jump passes ripples of two to eight scan intervals best and slow ones hardly, and scatters so too: each frequency is held
 * against what the series usually shows there.
 */
import { madSigma } from '../core/numeric/robust.ts';
import { type Ripple, ripples, usualSpacing } from '../core/signal/index.ts';
import type { WitnessSeries } from './other-groups.ts';
import type { RunEvent } from './run-reading.ts';
import { causeWords } from './witness/cause-words.ts';
import { rippleInJumps } from './witness/common-jump.ts';
import { durationFine } from './witness/ripple-events.ts';
import { percentText, timeText } from './words.ts';

/** Lines that chance shows less often than this in 24 h are told: their share of the one false alarm a day. */
const FALSE_PER_24H = 0.4;
/** Of both kinds together: 80 scans of each. */
const LEAST_SAMPLES = 160;
const LEAST_AMPLITUDE = 0.02;
/** Slower ones are elution's own (peaks are 5 to 30 s wide). */
const SLOWEST_S = 12;
const BELIEF = 0.6;

export function jointRippleEvents(
  one: WitnessSeries,
  others: readonly WitnessSeries[],
  group: number,
): RunEvent[] {
  const events: RunEvent[] = [];
  for (const other of others) {
    if (!one.jump || !other.jump) continue;
    const kinds: [Jumps, Jumps] = [weightedJumps(one), weightedJumps(other)];
    const { time_s, value } = together(kinds);
    const interval_s = usualSpacing(one.time_s);
    for (const line of ripples(time_s, value, FALSE_PER_24H, {
      filtered: true,
      least_samples: LEAST_SAMPLES,
    })) {
      const passed = rippleInJumps(line.period_s / interval_s);
      const waves = kinds.map((jumps) => waveOf(jumps, line));
      const amplitude = amplitudeOf(waves) / passed;
      if (passed < LEAST_PASSED || line.period_s > SLOWEST_S || amplitude < LEAST_AMPLITUDE) continue;
      if (!agree(waves)) continue;
      if (events.some((event) => event.start_s < line.end_s && line.start_s < event.end_s)) continue;
      events.push({
        kind: 'ripple',
        group,
        start_s: line.start_s,
        end_s: line.end_s,
        depth: null,
        confidence: BELIEF,
        confidence_basis: `in the ions of the scans of both kinds together; scatter that is not periodic would show such a line ${line.false_per_24h < 0.01 ? 'less than 0.01' : line.false_per_24h.toFixed(2)} times in 24 h; no background ions stand here`,
        causes: causeWords('ripple', line.period_s, true),
        common: true,
        from: 'matched peaks',
        period_s: line.period_s,
        sentence: `From ${timeText(line.start_s)} to ${timeText(line.end_s)} all ions of the scans taken in turn ripple together by ${percentText(Math.min(1, amplitude))} up and down every ${durationFine(line.period_s)}.`,
      });
    }
  }
  return events;
}

/** Where less of a ripple passes, as at the scans' own pace, a line is no ripple: both kinds differ from each other at that pace. Judgement. */
const LEAST_PASSED = 0.4;

interface Jumps {
  time_s: Float64Array;
  /** Jump times weight. */
  value: Float64Array;
  weight: Float64Array;
}

/** Known jumps in the middle between two scans, those of few ions made smaller. */
function weightedJumps({ time_s, jump }: WitnessSeries): Jumps {
  const { value, error } = jump!;
  const sigma = madSigma(value.filter(Number.isFinite));
  const at: number[] = [];
  for (let i = 1; i < time_s.length; i++) if (Number.isFinite(value[i]! + error[i]!)) at.push(i);
  const weight = Float64Array.from(at, (i) => 1 / (sigma * sigma + error[i]! * error[i]!));
  return {
    time_s: Float64Array.from(at, (i) => (time_s[i - 1]! + time_s[i]!) / 2),
    value: weight.map((w, k) => w * value[at[k]!]!),
    weight,
  };
}

/** Both in order of time. */
function together([one, other]: readonly [Jumps, Jumps]): Pick<Jumps, 'time_s' | 'value'> {
  const n = one.time_s.length + other.time_s.length;
  const time_s = new Float64Array(n);
  const value = new Float64Array(n);
  let i = 0;
  let k = 0;
  for (let to = 0; to < n; to++) {
    const first = k >= other.time_s.length || one.time_s[i]! <= other.time_s[k]!;
    time_s[to] = first ? one.time_s[i]! : other.time_s[k]!;
    value[to] = first ? one.value[i++]! : other.value[k++]!;
  }
  return { time_s, value };
}

/** Each kind has the line by itself, though weaker, and in step with the other. */
function agree(waves: readonly Wave[]): boolean {
  const [one, other] = waves as [Wave, Wave];
  if (Math.min(one.unlikely, other.unlikely) < OWN_UNLIKELY) return false;
  const ratio = sizeOf(one) / sizeOf(other);
  if (Math.max(ratio, 1 / ratio) > UNLIKE) return false;
  const apart = Math.abs(Math.atan2(one.sin, one.cos) - Math.atan2(other.sin, other.cos));
  return Math.min(apart, 2 * Math.PI - apart) < IN_STEP;
}

function sizeOf({ cos, sin, weight }: Wave): number {
  return Math.hypot(cos, sin) / weight;
}

function amplitudeOf(waves: readonly Wave[]): number {
  const sum = (of: (wave: Wave) => number): number => waves.reduce((total, wave) => total + of(wave), 0);
  return (
    (2 *
      Math.hypot(
        sum(({ cos }) => cos),
        sum(({ sin }) => sin),
      )) /
    sum(({ weight }) => weight)
  );
}

/** -ln of the chance that white scatter alone shows such a line at one frequency. Judgement. */
const OWN_UNLIKELY = 1.5;
/** A ripple of the spray has one size in both; scatter moves it. Judgement. */
const UNLIKE = 2.5;
/** Scatter alone is in step so far once in three. */
const IN_STEP = Math.PI / 3;

interface Wave {
  cos: number;
  sin: number;
  weight: number;
  unlikely: number;
}

/** Jumps have no mean to speak of: cosine and sine alone, as if the phases were spread evenly. */
function waveOf(
  { time_s, value, weight }: Jumps,
  line: Pick<Ripple, 'start_s' | 'end_s' | 'period_s'>,
): Wave {
  const wave: Wave = { cos: 0, sin: 0, weight: 0, unlikely: 0 };
  let squares = 0;
  for (let i = 0; i < time_s.length; i++) {
    if (time_s[i]! < line.start_s || time_s[i]! > line.end_s) continue;
    const angle = (2 * Math.PI * (time_s[i]! - line.start_s)) / line.period_s;
    wave.cos += value[i]! * Math.cos(angle);
    wave.sin += value[i]! * Math.sin(angle);
    wave.weight += weight[i]!;
    squares += value[i]! * value[i]!;
  }
  if (squares > 0) wave.unlikely = (wave.cos * wave.cos + wave.sin * wave.sin) / squares;
  return wave;
}
