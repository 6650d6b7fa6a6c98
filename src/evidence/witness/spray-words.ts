/**
 * What the spray series rests on, in words: the ions of the background and the sentences of the reading.
 */
import type { SprayReading } from '../run-reading.ts';
import { percentText } from '../words.ts';
import { knownBackground } from './known-background.ts';
import type { SpraySeries } from './spray-series.ts';

const MOST_IONS_TOLD = 40;

export function backgroundTold(
  series: SpraySeries,
  polarity: 'positive' | 'negative' | 'unknown',
  usual_level: number,
): SprayReading['background'] {
  return [...series.background.ions]
    .filter((ion) => ion.presence >= TOLD_PRESENCE)
    .sort((a, b) => b.log - a.log)
    .slice(0, MOST_IONS_TOLD)
    .map((ion) => {
      const known = knownBackground(ion.mz, polarity);
      return {
        mz: Math.round(ion.mz * 1e4) / 1e4,
        presence: Math.min(1, ion.presence),
        share: Math.exp(ion.log) / usual_level,
        scatter: ion.scatter,
        ...(known === undefined ? {} : { known }),
      };
    });
}

const TOLD_PRESENCE = 0.6;

export function spraySentences(reading: SprayReading, series: SpraySeries): string[] {
  const list: string[] = [];
  const ions = reading.background.length;
  list.push(
    reading.from === 'background ions'
      ? `The spray factor rests on ${ions} ions that stand in most scans.`
      : 'Too few ions stand in most scans: the spray factor rests on peaks matched between neighbouring scans, and falls of more than a minute are out of its reach. Decides: a background ion or a reference ion added to the liquid.',
  );
  if (reading.gain_sd !== null && reading.gain_error_median !== null) {
    const r = reading.halves_correlation;
    list.push(
      `From scan to scan all peaks together change by ${percentText(reading.gain_sd)} (error of one change ${percentText(reading.gain_error_median)}, ${Math.round(reading.matched_median)} peaks matched)${
        r === null
          ? '.'
          : reading.common === 'common'
            ? `; low and high m/z agree (r ${r.toFixed(2)}): the change is common.`
            : reading.common === 'not common'
              ? `; low and high m/z do not agree (r ${r.toFixed(2)}): it may be elution, not the spray.`
              : `; whether it is common is not decided (r ${r.toFixed(2)}).`
      }`,
    );
  } else if (!series.has_course)
    list.push('Too few peaks match between neighbouring scans to follow their gain.');
  return list;
}
