/** One moment of the run at the tip, with the edges of every draw and the voltage nothing may go past. */
import type { GradientPart } from './gradient-plan.ts';
import type { SupplyEdges } from './supply-edges.ts';

export interface Moment {
  time_min: number;
  organic_percent: number;
  part: GradientPart;
  edges: SupplyEdges;
  ceiling_V: number;
}

/** `12.5 min (8.3 % organic)`. */
export function whenWords(moment: { time_min: number; organic_percent: number }): string {
  return `${minuteWords(moment.time_min)} (${percentWords(moment.organic_percent)} organic)`;
}

export function minuteWords(time_min: number): string {
  return `${Number(time_min.toFixed(1))} min`;
}

export function percentWords(percent: number): string {
  return `${Number(percent.toFixed(percent < 10 ? 1 : 0))} %`;
}

/** A probability in whole per cent; never a bare 0 or 100 from a finite set of draws. */
export function chanceWords(probability: number): string {
  if (probability < 0.01) return 'under 1 %';
  if (probability > 0.99) return 'over 99 %';
  return `${Math.round(probability * 100)} %`;
}
