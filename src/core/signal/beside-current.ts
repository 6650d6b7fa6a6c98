/**
 * A slow quantity recorded beside the current (the pressure): its level, its range, and whether the current moves with it. Means over cells of a
 * tenth of a second, which join in pairs when there are too many; a straight drift of both is taken out; the best correlation within some
 * seconds of delay, since liquid in a line is compliant. Approximation: one delay for the whole trace. Breaks where both wander slowly by themselves over a few
 * swings only: chance then makes high correlations, so that swings are counted too.
 */

export interface BesideCurrent {
  mean: number;
  /** Of the cells' means: 2 and 98 %. */
  low: number;
  high: number;
  /** Best correlation of both within the delays; null where either stands still or the trace is short. */
  correlation: number | null;
  /** The current follows by so much [s]. */
  delay_s: number;
  /** How often the quantity crosses its own middle upwards. */
  swings: number;
}

export interface BesideTally {
  push(current: Float64Array, beside: Float64Array, count: number): void;
  /** Undefined where it never had a number. */
  end(): BesideCurrent | undefined;
}

const CELL_S = 0.1;
const MOST_CELLS = 4096;
const LEAST_CELLS = 60;
/** Compliance of a feed: seconds. */
const LONGEST_DELAY_S = 3;
const TAIL = 0.02;

export function besideTally(rate_Hz: number): BesideTally {
  let cell = Math.max(1, Math.round(CELL_S * rate_Hz));
  let [currents, others] = [[] as number[], [] as number[]];
  let [sumI, sumP, n, held] = [0, 0, 0, 0];
  const close = () => {
    if (n > 0) {
      currents.push(sumI / n);
      others.push(sumP / n);
    }
    sumI = sumP = n = held = 0;
    if (currents.length < MOST_CELLS) return;
    [currents, others] = [pairs(currents), pairs(others)];
    cell *= 2;
  };
  return {
    push(current, beside, count) {
      for (let k = 0; k < count; k++) {
        const i = current[k]!;
        const p = beside[k]!;
        if (!Number.isNaN(i) && !Number.isNaN(p)) {
          sumI += i;
          sumP += p;
          n++;
        }
        if (++held >= cell) close();
      }
    },
    end() {
      if (n > 0 && (2 * held >= cell || others.length === 0)) close();
      return others.length === 0 ? undefined : told(currents, others, cell / rate_Hz);
    },
  };
}

function told(currents: readonly number[], others: readonly number[], cell_s: number): BesideCurrent {
  const sorted = [...others].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))]!;
  const i = undrifted(currents);
  const p = undrifted(others);
  let swings = 0;
  for (let k = 1; k < p.length; k++) if (p[k - 1]! < 0 && p[k]! >= 0) swings++;
  const result: BesideCurrent = {
    mean: others.reduce((sum, value) => sum + value, 0) / others.length,
    low: at(TAIL),
    high: at(1 - TAIL),
    correlation: null,
    delay_s: 0,
    swings,
  };
  if (p.length < LEAST_CELLS || !(p.some((v) => v !== 0) && i.some((v) => v !== 0))) return result;
  const reach = Math.min(Math.floor(LONGEST_DELAY_S / cell_s), p.length >> 2);
  for (let delay = -reach; delay <= reach; delay++) {
    const r = correlationAt(i, p, delay);
    if (Math.abs(r) <= Math.abs(result.correlation ?? 0)) continue;
    result.correlation = r;
    result.delay_s = delay * cell_s;
  }
  return result;
}

function correlationAt(i: Float64Array, p: Float64Array, delay: number): number {
  let [ii, pp, ip] = [0, 0, 0];
  for (let k = Math.max(0, -delay); k < p.length - Math.max(0, delay); k++) {
    const [a, b] = [i[k + delay]!, p[k]!];
    ii += a * a;
    pp += b * b;
    ip += a * b;
  }
  return ii > 0 && pp > 0 ? ip / Math.sqrt(ii * pp) : 0;
}

/** Without its mean and its straight drift. */
function undrifted(values: readonly number[]): Float64Array {
  const n = values.length;
  const middle = (n - 1) / 2;
  let [sum, slope, square] = [0, 0, 0];
  for (let k = 0; k < n; k++) {
    sum += values[k]!;
    slope += (k - middle) * values[k]!;
    square += (k - middle) ** 2;
  }
  const drift = square > 0 ? slope / square : 0;
  return Float64Array.from(values, (value, k) => value - sum / n - drift * (k - middle));
}

function pairs(values: readonly number[]): number[] {
  const joined: number[] = [];
  for (let k = 0; k + 1 < values.length; k += 2) joined.push((values[k]! + values[k + 1]!) / 2);
  return joined;
}
