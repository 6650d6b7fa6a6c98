/** The 10th, 50th and 90th percentile of the draws at every moment, shortened for a document. */
import type { Band, OpenBand } from './gradient-plan.ts';
import { spreadOf } from './percentiles.ts';

export function bandOf(values: readonly ArrayLike<number>[]): Band {
  const spreads = values.map(spreadOf);
  const short = (v: number) => Number(v.toPrecision(BAND_DIGITS));
  return {
    low: spreads.map((s) => short(s.low)),
    middle: spreads.map((s) => short(s.middle)),
    high: spreads.map((s) => short(s.high)),
  };
}
/** More would only lengthen the document: the draws are known to 1 % at best. */
const BAND_DIGITS = 5;

export function openBandOf(band: Band): OpenBand {
  const open = (values: number[]) => values.map((v) => (Number.isFinite(v) ? v : null));
  return { low: open(band.low), middle: open(band.middle), high: open(band.high) };
}
