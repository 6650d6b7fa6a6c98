/**
 * What is stated of a window, made to mean what it says: the likeliest regime's probability goes through a small rising table, the others keep
 * their shares of the rest. The table: pooled neighbours on tuning traces that no threshold was set on (`SET=tuning SEED=30000
 * TRACES=50 npx tsx bench/regime.bench.ts` with the table emptied; bins of less than two parts of a trace left out). Breaks on
 * traces that are unlike the rehearsed ones: there the reading is surer than it may be.
 */
import { byRegime, likeliest, REGIMES, type Regime, type RegimeProbabilities } from './regimes.ts';

/** Stated before, right; straight lines in between. Below the first, and for two that are nearly alike, nothing is changed. */
const TABLE: readonly (readonly [stated: number, right: number])[] = [
  [0.5, 0.5],
  [0.652, 0.818],
  [0.751, 0.827],
  [0.863, 0.879],
  [0.929, 0.931],
  [0.966, 0.931],
  [0.982, 0.989],
  [0.986, 0.99],
  [1, 0.99],
];

export function calibrated(p: RegimeProbabilities): RegimeProbabilities {
  const top = likeliest(p);
  const stated = p[top];
  const k = TABLE.findIndex(([from]) => stated <= from);
  if (k < 1) return p;
  const [[a, low], [b, high]] = [TABLE[k - 1]!, TABLE[k]!];
  const right = low + ((high - low) * (stated - a)) / (b - a);
  // Where nothing is left to the others, they share alike.
  const others = REGIMES.reduce((sum, name) => sum + (name === top ? 0 : p[name]), 0);
  const shareOf = (name: Regime) => (others > 0 ? p[name] / others : 1 / (REGIMES.length - 1));
  return byRegime((name) => (name === top ? right : (1 - right) * shareOf(name)));
}
