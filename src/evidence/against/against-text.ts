/** A comparison with good runs as text for a terminal, and its series as comma-separated values. */
import { capital } from '../words.ts';
import type { AgainstReading } from './against-reading.ts';

const MOST_CAUSES = 3;

export function againstText(against: AgainstReading): string {
  const lines = ['Against good runs:', ...against.sentences.map((line) => `  ${line}`)];
  for (const event of against.events) {
    lines.push(`  ${againstEventText(event)}`);
  }
  if (against.undecided.length > 0) {
    lines.push('This comparison cannot decide:');
    lines.push(...against.undecided.map((line) => `  - ${capital(line)}`));
  }
  return `${lines.join('\n')}\n`;
}

export function againstEventText(event: AgainstReading['events'][number]): string {
  const causes = (event.causes ?? []).slice(0, MOST_CAUSES);
  return `${event.sentence} Confidence ${event.confidence.toFixed(2)}: ${event.confidence_basis}.${causes.length > 0 ? ` Could be: ${causes.join(', ')}.` : ''}`;
}

/** One row for each step; the ratio is over its usual one, empty where it has no value. Lines end with CR LF (RFC 4180). */
export function againstCsv({ series, ratio }: AgainstReading): string {
  const lines = ['time_s,ratio_over_usual,low_95,high_95,usual_ratio'];
  series?.time_s.forEach((time_s, i) => {
    const log = series.log[i] ?? null;
    const half = BAND_ERRORS * (series.error[i] ?? 0);
    const values =
      log === null
        ? ['', '', '']
        : [log, log - half, log + half].map((value) => Math.exp(value).toPrecision(4));
    lines.push([time_s, ...values, ratio?.value ?? ''].join(','));
  });
  return `${lines.join('\r\n')}\r\n`;
}

/** Standard errors each way of the band that is shown. */
export const BAND_ERRORS = 2;
