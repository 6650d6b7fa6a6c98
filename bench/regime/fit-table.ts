/**
 * A rising table from stated to right, fitted on the tuning set: windows in bins of what was stated of the regime named, each with a
 * weight of one over the root of the windows of its part (they err together), some belief in what was stated, and neighbours that
 * fall pooled until all rise. Fit it with the table of src/evidence/current/calibrated.ts emptied.
 */
export interface Stated {
  stated: number;
  right: boolean;
  weight: number;
}

const EDGES = [0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.975, 0.985, 1];
const BELIEF = 2;

export function fittedTable(windows: readonly Stated[]): { stated: number; right: number; weight: number }[] {
  const bins = EDGES.slice(1).flatMap((to, k) => {
    const own = windows.filter((w) => w.stated >= EDGES[k]! && w.stated < to);
    if (own.length === 0) return [];
    const weight = own.reduce((s, w) => s + w.weight, 0);
    const stated = own.reduce((s, w) => s + w.weight * w.stated, 0) / weight;
    const right = own.reduce((s, w) => s + (w.right ? w.weight : 0), 0);
    return [{ stated, right: (right + BELIEF * stated) / (weight + BELIEF), weight }];
  });
  for (let k = 1; k < bins.length; k++)
    for (let j = k; j > 0 && bins[j]!.right < bins[j - 1]!.right; j--) {
      const [a, b] = [bins[j - 1]!, bins[j]!];
      a.right = b.right = (a.right * a.weight + b.right * b.weight) / (a.weight + b.weight);
    }
  return bins;
}
