/**
 * P(outcome | hypothesis). A fault states relative weights for the outcomes it makes likely; what it leaves unsaid shares
 * a small remainder, an observable it does not touch keeps its `untouched` frequencies, and every answer may be wrong.
 * Two faults at once: where both touch an observable either may show, so the mean of both. Outside the catalogue: half
 * the catalogue's own mean, half uniform, so that an odd pattern no fault explains raises it. All weights are judgement.
 */
import type { Fault, Observable } from './types.ts';

/** Share of belief for all outcomes a fault does not name at an observable it touches. Judgement. */
export const UNSAID_SHARE = 0.1;
/** Share of answers that are wrong whatever the truth. Judgement; the proof uses the same 10 %. */
export const WRONG_ANSWER_SHARE = 0.1;

/** Rows: faults in order, then 'outside'. Columns: outcomes of one observable. Computed once for each list of faults. */
export function outcomeTable(faults: readonly Fault[], observable: Observable): readonly Float64Array[] {
  const tables = known.get(faults) ?? new Map<Observable, readonly Float64Array[]>();
  known.set(faults, tables);
  const table = tables.get(observable) ?? computedTable(faults, observable);
  tables.set(observable, table);
  return table;
}

const known = new WeakMap<readonly Fault[], Map<Observable, readonly Float64Array[]>>();

function computedTable(faults: readonly Fault[], observable: Observable): Float64Array[] {
  const rows = faults.map((fault) => answered(outcomesUnder(fault, observable)));
  const count = observable.outcomes.length;
  const outside = new Float64Array(count);
  for (const row of rows) for (let k = 0; k < count; k++) outside[k]! += row[k]! / (2 * rows.length);
  for (let k = 0; k < count; k++) outside[k]! += 1 / (2 * count);
  rows.push(outside);
  return rows;
}

/** P(outcome | fault) without wrong answers. */
export function outcomesUnder(fault: Fault, observable: Observable): Float64Array {
  const signs = fault.signs[observable.id];
  const { outcomes, untouched } = observable;
  if (signs === undefined) return Float64Array.from(untouched);
  const named = outcomes.map(({ id }) => signs[id] ?? 0);
  const total = named.reduce((sum, weight) => sum + weight, 0);
  const unsaid = named.filter((weight) => weight === 0).length;
  const left = unsaid === 0 ? 0 : UNSAID_SHARE;
  return Float64Array.from(named, (weight) => (weight === 0 ? left / unsaid : ((1 - left) * weight) / total));
}

export function touches(fault: Fault, observable: string): boolean {
  return fault.signs[observable] !== undefined;
}

function answered(clean: Float64Array): Float64Array {
  return clean.map((p) => (1 - WRONG_ANSWER_SHARE) * p + WRONG_ANSWER_SHARE / clean.length);
}
