/** The explanation of a trace: its longest regime with the belief in it, and the current over the planned one. */
import type { CurrentReading } from '../../evidence/current/index.ts';
import { explanationHref } from '../explain/explain-address.ts';

export function explainHref({
  timeline,
  comparison,
}: Pick<CurrentReading, 'timeline' | 'comparison'>): string {
  const longest = timeline.toSorted((a, b) => b.end_s - b.start_s - (a.end_s - a.start_s))[0];
  if (longest === undefined) return explanationHref();
  const current = {
    regime: longest.regime,
    probability: Number(Math.min(1, Math.max(0, longest.probability)).toFixed(3)),
    ...(comparison === null ? {} : { multipleOfExpected: Number(comparison.ratio.toPrecision(3)) }),
  };
  return explanationHref({ current });
}
