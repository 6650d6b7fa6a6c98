/** The ions of a run gathered from their passages: one curve of ln intensity over the steps for each m/z. */
import type { IonPassage, IonsOverTime } from '../witness/ion-passages.ts';

export interface IonCurve {
  mz: number;
  /** Steps in which it stands. */
  seen: number;
  /** ln intensity of each step; NaN where it does not stand. */
  log: Float64Array;
  passages: IonPassage[];
}

/** Rising in m/z. Passages whose m/z lie within the tolerance of their neighbour are one ion. */
export function ionCurves(ions: IonsOverTime): IonCurve[] {
  const share = ions.tolerance_ppm * 1e-6;
  const sorted = [...ions.passages].sort((a, b) => a.mz - b.mz);
  const curves: IonCurve[] = [];
  for (const passage of sorted) {
    let curve = curves.at(-1);
    if (!curve || passage.mz - curve.mz > share * passage.mz) {
      curve = { mz: passage.mz, seen: 0, log: new Float64Array(ions.steps).fill(Number.NaN), passages: [] };
      curves.push(curve);
    }
    curve.passages.push(passage);
    // The middle moves with what joins, weighted by nothing: passages of one ion lie within a few ppm.
    curve.mz += (passage.mz - curve.mz) / curve.passages.length;
    passage.log.forEach((log, k) => {
      const at = passage.first + k;
      if (log === null || at >= ions.steps) return;
      if (Number.isNaN(curve.log[at]!)) curve.seen++;
      // Two that fall into one step: the stronger.
      if (!(curve.log[at]! >= log)) curve.log[at] = log;
    });
  }
  return curves;
}

/** Pairs of two lists rising in m/z, each the other's nearest within `share` of its m/z. */
export function pairedByMz<T extends { mz: number }>(
  ours: readonly T[],
  theirs: readonly T[],
  share: number,
): [T, T][] {
  const pairs: [T, T][] = [];
  let j = 0;
  for (let i = 0; i < ours.length && theirs.length > 0; i++) {
    const { mz } = ours[i]!;
    while (j + 1 < theirs.length && Math.abs(theirs[j + 1]!.mz - mz) <= Math.abs(theirs[j]!.mz - mz)) j++;
    const partner = theirs[j]!;
    const off = Math.abs(partner.mz - mz);
    if (off > share * mz) continue;
    if (i > 0 && Math.abs(ours[i - 1]!.mz - partner.mz) < off) continue;
    if (i + 1 < ours.length && Math.abs(ours[i + 1]!.mz - partner.mz) < off) continue;
    pairs.push([ours[i]!, partner]);
  }
  return pairs;
}

/** Visits each of `ours` with all of `theirs` within `share` of its m/z; both lists rise in m/z. */
export function eachLikeMz<T extends { mz: number }>(
  ours: readonly T[],
  theirs: readonly T[],
  share: number,
  visit: (one: T, alike: readonly T[]) => void,
): void {
  let first = 0;
  for (const one of ours) {
    const reach = share * one.mz;
    while (first < theirs.length && theirs[first]!.mz < one.mz - reach) first++;
    let past = first;
    while (past < theirs.length && theirs[past]!.mz <= one.mz + reach) past++;
    visit(one, theirs.slice(first, past));
  }
}

/** An ion that passes: when, and how much of it. */
export interface Passing {
  mz: number;
  time_s: number;
  area_log: number;
}

/** Longer passages are no peaks of the column. Judgement: a share of the run, and so many steps. */
const PASSING_SHARE = 0.15;
const PASSING_STEPS = 12;

/** Passages short enough to be elution, in order of m/z; `standing` ions left out. */
export function passingIons(
  ions: IonsOverTime,
  curves: readonly IonCurve[],
  standing: ReadonlySet<IonCurve>,
): Passing[] {
  const longest = Math.max(PASSING_STEPS, PASSING_SHARE * ions.steps);
  const list: Passing[] = [];
  for (const curve of curves) {
    if (standing.has(curve)) continue;
    for (const { mz, first, log } of curve.passages) {
      if (log.length > longest) continue;
      let sum = 0;
      let moment = 0;
      for (let k = 0; k < log.length; k++) {
        const value = log[k] ?? null;
        if (value === null) continue;
        const level = Math.exp(value);
        sum += level;
        moment += level * (first + k + 0.5);
      }
      list.push({
        mz,
        time_s: ions.start_s + (ions.step_s * moment) / sum,
        area_log: Math.log(sum),
      });
    }
  }
  return list.sort((a, b) => a.mz - b.mz);
}
