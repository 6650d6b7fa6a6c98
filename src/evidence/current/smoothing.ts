/**
 * A regime lasts longer than a window: forward and backward sums over a chain that stays with STAY from window to window and else goes
 * anywhere. Each window's probabilities count as its evidence, weakened by WEIGHT, since neighbours err together. A gap cuts the chain.
 * Afterwards the probabilities are made to mean what they say: a power, a floor and a table (calibrated.ts), fitted on the tuning set of
 * bench/regime.bench.ts (rehearsed traces), reported on another. Breaks for regimes shorter than some windows: they are smoothed away.
 */
import { calibrated } from './calibrated.ts';
import { byRegime, REGIMES, type RegimeProbabilities } from './regimes.ts';

const STAY = 0.9;
const WEIGHT = 0.7;
/** Where the level changes by a quarter and more [ln], as far as more than this flows [A]. */
const STAY_AFTER_CHANGE = 0.6;
const CHANGED = 0.25;
const LEAST_A = 2e-9;
const LEAST = 1e-4;
/** Fitted: see above. */
const POWER = 0.8;
const FLOOR = 0.015;
const SLACK_S = 1e-6;

export function smoothed(
  windows: readonly { start_s: number; end_s: number; level_A: number }[],
  alone: readonly RegimeProbabilities[],
): RegimeProbabilities[] {
  const out: RegimeProbabilities[] = [];
  let from = 0;
  for (let i = 1; i <= windows.length; i++) {
    if (i < windows.length && windows[i]!.start_s <= windows[i - 1]!.end_s + SLACK_S) continue;
    out.push(...chain(alone.slice(from, i), staying(windows.slice(from, i))));
    from = i;
  }
  return out;
}

/** How likely the regime of each window goes on in the next: less where the level changes. */
function staying(windows: readonly { level_A: number }[]): number[] {
  return windows.slice(1).map((w, i) => {
    const [a, b] = [Math.max(windows[i]!.level_A, LEAST_A), Math.max(w.level_A, LEAST_A)];
    return Math.abs(Math.log(a / b)) > CHANGED ? STAY_AFTER_CHANGE : STAY;
  });
}

function chain(alone: readonly RegimeProbabilities[], stay: readonly number[]): RegimeProbabilities[] {
  const n = REGIMES.length;
  const evidence = alone.map((p) => REGIMES.map((name) => Math.max(p[name], LEAST) ** WEIGHT));
  const ahead = passed(evidence, stay);
  const back = passed([...evidence].reverse(), [...stay].reverse()).reverse();
  return evidence.map((own, i) =>
    calibrated(scaled(own.map((e, r) => e * ahead[i]![r]! * back[i]![r]! * n))),
  );
}

/** What the windows before each say of it. */
function passed(evidence: readonly number[][], stay: readonly number[]): number[][] {
  const n = REGIMES.length;
  let before = new Array<number>(n).fill(1 / n);
  return evidence.map((own, i) => {
    const said = before;
    const after = own.map((e, r) => e * said[r]!);
    const sum = after.reduce((a, b) => a + b, 0);
    const kept = stay[i] ?? STAY;
    before = after.map((x) => (kept * x) / sum + (1 - kept) / n);
    return said;
  });
}

function scaled(values: readonly number[]): RegimeProbabilities {
  const powers = values.map((x) => Math.max(x, 1e-300) ** POWER);
  const sum = powers.reduce((a, b) => a + b, 0);
  return byRegime((_, r) => ((1 - FLOOR) * powers[r]!) / sum + FLOOR / REGIMES.length);
}
