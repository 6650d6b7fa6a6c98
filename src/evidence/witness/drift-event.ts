/**
 * A slow fall of the ions that last the whole run, to its end. A gradient can do the same.
 */
import { median } from '../../core/numeric/robust.ts';
import type { RunEvent } from '../run-reading.ts';
import { percentText, timeText } from '../words.ts';
import { causeWords } from './cause-words.ts';
import type { SpraySeries } from './spray-series.ts';

/** Fall of the lasting background ions between blocks and the end that is told. The one long steady run at hand moves by 0.05, a short one by 0.26. */
const DRIFT_LOG = 0.35;
const DEEP_DRIFT_LOG = 0.45;
const LEAST_BLOCKS = 4;

/** The ions that last sink from some block to the end, low and high m/z alike, and the total level with them. */
export function driftEvent(series: SpraySeries, group: number): RunEvent | undefined {
  const { slow } = series.background;
  if (slow.length < LEAST_BLOCKS) return undefined;
  const last = slow.at(-1)!;
  let top = slow[0]!;
  for (const block of slow) if (block.log > top.log) top = block;
  const size = top.log - last.log;
  if (!(size >= DRIFT_LOG)) return undefined;
  const halves = Math.min(top.low - last.low, top.high - last.high) >= HALF_SHARE * size;
  const level = levelNear(series, top.time_s) - levelNear(series, last.time_s) >= HALF_SHARE * size;
  // The level may rise by elution meanwhile: a deep common fall stands without it.
  const sure = halves && (level || size >= DEEP_DRIFT_LOG);
  return {
    kind: 'drift',
    group,
    start_s: top.time_s,
    end_s: last.time_s,
    depth: 1 - Math.exp(-size),
    confidence: sure ? 0.5 : 0.3,
    confidence_basis: `${halves ? 'low and high m/z sink alike' : 'low and high m/z do not sink alike'}; ${level ? 'the total level sinks too' : 'the total level does not'}; a gradient can do the same`,
    causes: causeWords('drift', last.time_s - top.time_s, halves ? true : undefined),
    common: halves,
    from: 'background ions',
    sentence: `From ${timeText(top.time_s)} to ${timeText(last.time_s)} the ions that last the whole run sink by ${percentText(1 - Math.exp(-size))}.`,
  };
}

const HALF_SHARE = 0.5;
const LEVEL_NEAR_S = 60;

function levelNear(series: SpraySeries, time_s: number): number {
  const near = series.level_log.filter((_, i) => Math.abs(series.time_s[i]! - time_s) <= LEVEL_NEAR_S);
  return median(near);
}
