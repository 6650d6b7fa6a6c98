/** Draws put into an estimate: the median with the 10th and 90th percentile, validity inherited from what went in. */
import { type Estimate, type EstimateOptions, inheritValidity } from '../estimate.ts';
import { quantileOfSorted } from '../numeric/robust.ts';

export function fromDraws(
  values: Float64Array,
  options: Pick<EstimateOptions, 'basis' | 'sources' | 'note'>,
  ...inputs: readonly Estimate[]
): Estimate {
  const sorted = Float64Array.from(values).sort();
  const at = (share: number) => quantileOfSorted(sorted, sorted.length, share);
  const sources = [...options.sources];
  for (const input of inputs)
    for (const source of input.sources) if (!sources.includes(source)) sources.push(source);
  const result: Estimate = {
    value: at(0.5),
    low: at(0.1),
    high: at(0.9),
    basis: options.basis,
    sources,
    valid: true,
  };
  if (options.note !== undefined) result.note = options.note;
  return inheritValidity(result, ...inputs);
}

/** As `fromDraws`, null where fewer than half the draws reach a value at all. */
export function fromOpenDraws(
  values: Float64Array,
  options: Pick<EstimateOptions, 'basis' | 'sources' | 'note'>,
): Estimate | null {
  const sorted = Float64Array.from(values).sort();
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  if (!Number.isFinite(at(0.5))) return null;
  const high = at(0.9);
  return {
    value: at(0.5),
    low: at(0.1),
    high: Number.isFinite(high) ? high : sorted[sorted.findLastIndex(Number.isFinite)]!,
    basis: options.basis,
    sources: [...options.sources],
    valid: true,
    ...(options.note === undefined ? {} : { note: options.note }),
  };
}
