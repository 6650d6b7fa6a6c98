import type { Moment } from './moment.ts';
import { percentile } from './percentiles.ts';
import { sprayingTips } from './supply-edges.ts';

/** Median tip voltage of the draws that spray at this supply [V]; null where none does. */
export function medianTip(moment: Moment, supply: number): number | null {
  const tips = sprayingTips(moment.edges, supply);
  return tips.length === 0 ? null : percentile(tips, 0.5);
}
