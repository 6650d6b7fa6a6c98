/**
 * Scatter from scan to scan of this run against that of good runs over the same minutes: of the spray factor where both
 * rest on background ions, else of the level. Elution scatters alike in like runs, so that growth shows which one run
 * alone would hide. Scatter that stays so many times theirs from end to end is a property of the run and told as such.
 */
import { MAD_TO_SIGMA, median } from '../../core/numeric/robust.ts';
import { lastingChange } from '../../core/signal/lasting-change.ts';
import type { RunEvent, RunGroup } from '../run-reading.ts';
import { causeWords } from '../witness/cause-words.ts';
import { percentText, timeText } from '../words.ts';
import { chanceWords } from './ratio-events.ts';
import type { RunTimes } from './run-times.ts';

/** Windows hold at least so many scans and last so long: the scatter is then known to a quarter. */
const WINDOW_S = 30;
const WINDOW_SCANS = 16;
/** x - (a + b) / 2 of equal scans. */
const NEIGHBOUR_SD = Math.sqrt(1.5);
const BLOCK = 2;
const CHANCE = 0.01;
/** Growth told: by half. Growth that is sure: two-fold. */
const LEAST_GROWTH_LOG = Math.log(1.5);
const SURE_GROWTH_LOG = Math.log(2);
const LEAST_SCATTER = 0.005;
const CUT = 3;
/** Mean size of a normal value to its standard deviation: sqrt(pi / 2). */
const MEAN_TO_SIGMA = 1.2533;

export interface ScatterAgainst {
  /** Middle ratio of the scatters. */
  ratio: number;
  event?: RunEvent;
}

export function scatterAgainst(
  ours: RunGroup,
  references: readonly { group: RunGroup; times: RunTimes }[],
  group: number,
): ScatterAgainst | undefined {
  const window_s = Math.max(WINDOW_S, WINDOW_SCANS * ours.interval_s);
  const count = Math.floor((ours.end_s - ours.start_s) / window_s);
  const byFactor = [ours, ...references.map((one) => one.group)].every(
    ({ spray }) => spray?.from === 'background ions',
  );
  const own = neighbours(ours, byFactor);
  const theirs = references.map((one) => ({ ...one, list: neighbours(one.group, byFactor) }));
  const logs: number[] = [];
  const starts: number[] = [];
  for (let w = 0; w < count; w++) {
    const from_s = ours.start_s + w * window_s;
    const to_s = from_s + window_s;
    const mine = scatterIn(own, from_s, to_s);
    const usual = theirs
      .map(({ list, times }) => scatterIn(list, times.there(from_s), times.there(to_s)))
      .filter((value) => Number.isFinite(value));
    if (!Number.isFinite(mine) || usual.length === 0) continue;
    logs.push(Math.log(mine / median(usual)));
    starts.push(from_s);
  }
  if (logs.length === 0) return undefined;
  const ratio = Math.exp(median(logs));
  const { change } = lastingChange(logs, { block: BLOCK });
  if (!change || !(change.chance < CHANCE && change.size_log >= LEAST_GROWTH_LOG)) return { ratio };
  const start_s = starts[change.at]!;
  const last = scatterIn(own, starts.at(-Math.min(3, starts.length))!, ours.end_s + 1);
  const sure = change.size_log >= SURE_GROWTH_LOG && change.chance < CHANCE / 10;
  const end_s = ours.end_s;
  return {
    ratio,
    event: {
      kind: 'flicker',
      group,
      start_s,
      end_s,
      depth: null,
      confidence: 0.4 + (sure ? 0.15 : 0) + (byFactor ? 0.1 : 0),
      confidence_basis: `a flat pair would show as much ${chanceWords(change.chance)}; ${byFactor ? 'scatter of the spray factor' : 'scatter of the level, to which the sample adds'}`,
      causes: causeWords('flicker', end_s - start_s, undefined),
      sentence: `From ${timeText(start_s)} on the scatter from scan to scan grows to ${Math.exp(change.size_log).toFixed(1)} times of what it was against the good runs (${percentText(last)} in the last minutes).`,
    },
  };
}

interface Neighbours {
  time_s: number[];
  size: number[];
}

function neighbours({ series, spray }: RunGroup, byFactor: boolean): Neighbours {
  const values = byFactor ? spray!.factor : series.level;
  const out: Neighbours = { time_s: [], size: [] };
  const log = values.map((value) => (value !== null && value > 0 ? Math.log(value) : Number.NaN));
  for (let i = 1; i + 1 < log.length; i++) {
    const off = Math.abs(log[i]! - (log[i - 1]! + log[i + 1]!) / 2) / NEIGHBOUR_SD;
    if (!Number.isFinite(off)) continue;
    out.time_s.push(series.time_s[i]!);
    out.size.push(off);
  }
  return out;
}

/** Mean size, what lies beyond three of the middle one cut: better known than a middle size by half as many scans again. */
function scatterIn({ time_s, size }: Neighbours, from_s: number, to_s: number): number {
  const here = size.filter((_, i) => time_s[i]! >= from_s && time_s[i]! < to_s);
  if (here.length < WINDOW_SCANS / 2) return Number.NaN;
  const most = CUT * MAD_TO_SIGMA * median(here);
  const mean = here.reduce((sum, value) => sum + Math.min(most, value), 0) / here.length;
  return Math.max(LEAST_SCATTER, MEAN_TO_SIGMA * mean);
}
