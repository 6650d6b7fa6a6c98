/**
 * What the series of one run could just have shown: sags, a dropout of one scan, a ripple.
 */
import { madSigma } from '../../core/numeric/robust.ts';
import type { DetectionLimits } from '../run-reading.ts';
import { capital, percentText } from '../words.ts';
import { LEAST_RIPPLE_SCANS, type Rest } from './quiet-scans.ts';
import type { SpraySeries } from './spray-series.ts';

/** ln of the false alarms in 24 h allowed, over the trials in them: what a line has to overcome. */
const RIPPLE_EXCESS = 15;
/** Scans of the longest window in which ripples are looked for. */
const RIPPLE_SCANS = 384;

export function detectionLimits(
  series: SpraySeries,
  falls: readonly { length_s: number; size_log: number; scans: number }[],
  rest: Rest,
): DetectionLimits {
  const at = (length_s: number): number | null => {
    const entry = falls.filter((limit) => limit.length_s <= length_s * 1.01).at(-1);
    const next = falls.find((limit) => limit.length_s > length_s * 1.01);
    // The longest box looked for stands for longer ones only a little longer.
    if (!entry || (!next && entry.length_s < length_s / 1.5)) return null;
    return 1 - Math.exp(-entry.size_log * SEEN_MARGIN);
  };
  const n = Math.min(RIPPLE_SCANS, rest.value.length);
  const sigma = rest.value.length >= LEAST_RIPPLE_SCANS ? madSigma(rest.value) : Number.NaN;
  // Half of all lines of amplitude A stand out when n A^2 / (4 sigma^2) equals the excess; nine in ten a third above.
  const ripple = Number.isNaN(sigma) ? null : 1.3 * sigma * Math.sqrt((4 * RIPPLE_EXCESS) / n);
  const sag_10s = at(10);
  const sag_60s = at(60);
  const single = falls.find((limit) => limit.scans === 1);
  const dropout = single ? 1 - Math.exp(-single.size_log * SEEN_MARGIN) : null;
  return {
    sag_10s,
    sag_60s,
    dropout_one_scan: dropout,
    ripple,
    sentence: limitsSentence(
      series.has_background ? 'background ions' : 'matched peaks',
      { sag_10s, sag_60s, dropout_one_scan: dropout, ripple },
      n,
    ),
  };
}

/** With what scans of two kinds show together: `least` gives, for a length, the size as a log of a fall that half of the places show. */
export function withJointLimits(
  limits: DetectionLimits,
  least: ((length_s: number) => number) | undefined,
): DetectionLimits {
  if (!least) return limits;
  const sag_10s = 1 - Math.exp(-least(10) * SEEN_MARGIN);
  const sag_60s = 1 - Math.exp(-least(60) * SEEN_MARGIN);
  if (sag_10s >= (limits.sag_10s ?? 1) && sag_60s >= (limits.sag_60s ?? 1)) return limits;
  return {
    ...limits,
    sag_10s: Math.min(sag_10s, limits.sag_10s ?? 1),
    sag_60s: Math.min(sag_60s, limits.sag_60s ?? 1),
    sentence: `${limits.sentence} With the ions of the scans taken in turn: a sag of ${percentText(sag_10s)} for 10 s and a sag of ${percentText(sag_60s)} for 60 s.`,
  };
}

/** What could be shown with its size, then what could not be shown at all; each only where it holds. */
export function limitsSentence(
  ion: string,
  { sag_10s, sag_60s, dropout_one_scan, ripple }: Omit<DetectionLimits, 'sentence'>,
  ripple_scans: number,
): string {
  const could: string[] = [];
  const not: string[] = [];
  if (sag_10s !== null) could.push(`a sag of ${percentText(sag_10s)} for 10 s`);
  if (sag_60s !== null) could.push(`a sag of ${percentText(sag_60s)} for 60 s`);
  if (sag_10s === null || sag_60s === null)
    not.push(
      `sag of ${[...(sag_10s === null ? ['10 s'] : []), ...(sag_60s === null ? ['60 s'] : [])].join(' or ')}`,
    );
  if (dropout_one_scan !== null) could.push(`a single scan lower by ${percentText(dropout_one_scan)}`);
  else not.push('single low scan');
  if (ripple !== null) could.push(`a ripple of ${percentText(ripple)} over ${ripple_scans} scans`);
  else not.push('ripple');
  const none = `${listed(not.map((one) => `no ${one}`))} could be shown`;
  if (could.length === 0) return `${capital(none)} by the ${ion} of this run.`;
  const least = `The least this run could show by its ${ion}: ${listed(could)}`;
  return not.length === 0 ? `${least}.` : `${least}; ${none}.`;
}

function listed(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** A fall exactly at the threshold is seen half of the time; a fifth more makes it nine in ten. */
const SEEN_MARGIN = 1.2;
