/**
 * The level that is followed: the total ion current as the file states it, or the sum of the stored intensities where
 * that is missing. The two may differ by any factor (filtered, sliced or profile data); a ratio that changes during the
 * run is worth a warning, since then one of them does not follow the spray.
 */
import { median } from '../core/numeric/robust.ts';
import type { RunRecord } from '../formats/run-record.ts';
import type { ScanGroup } from './run-groups.ts';

/** Ratio of the thirds of a run beyond which summed / stated counts as changing. Judgement. */
const RATIO_CHANGE = 1.5;
/** Least scans in a third for that comparison. */
const LEAST_IN_THIRD = 5;

export interface LevelSeries {
  /** Rows of the record. */
  rows: number[];
  time_s: number[];
  level: number[];
  /** Milliseconds, null where the file gives none. */
  injection_ms: (number | null)[];
  level_from: 'stated' | 'summed';
  summed_over_stated: number | null;
  warnings: string[];
}

export function levelSeries(record: RunRecord, group: ScanGroup): LevelSeries {
  const warnings: string[] = [];
  const ratios: number[] = [];
  let stated = true;
  let anyStated = false;
  for (const row of group.rows) {
    const given = record.tic_stated[row]!;
    const summed = record.tic_summed[row]!;
    if (!Number.isFinite(given)) stated = false;
    else if (given > 0) {
      anyStated = true;
      const ratio = summed / given;
      if (ratio > 0 && Number.isFinite(ratio)) ratios.push(ratio);
    }
  }
  if (stated && !anyStated && group.rows.some((row) => record.tic_summed[row]! > 0)) {
    stated = false;
    warnings.push(
      `${group.label}: every stated total ion current is zero, the stored intensities are summed instead`,
    );
  }
  const column = stated ? record.tic_stated : record.tic_summed;
  const series: LevelSeries = {
    rows: [],
    time_s: [],
    level: [],
    injection_ms: [],
    level_from: stated ? 'stated' : 'summed',
    summed_over_stated: ratios.length > 0 ? median(ratios) : null,
    warnings,
  };
  let dropped = 0;
  for (const row of group.rows) {
    const level = column[row]!;
    if (!(Number.isFinite(level) && level >= 0)) {
      dropped++;
      continue;
    }
    const fill = record.injection_ms[row]!;
    series.rows.push(row);
    series.time_s.push(record.time_s[row]!);
    series.level.push(level);
    series.injection_ms.push(Number.isFinite(fill) && fill > 0 ? fill : null);
  }
  if (dropped > 0)
    warnings.push(`${group.label}: ${dropped} MS1 scans have no readable level and are left out`);
  const change = ratioChange(ratios);
  if (change !== undefined) {
    warnings.push(
      `${group.label}: summed / stated ion current changes ${change.toFixed(1)}-fold during the run, so one of the two does not follow the spray`,
    );
  }
  return series;
}

/** Largest over smallest median of the thirds, when that is worth saying. */
function ratioChange(ratios: readonly number[]): number | undefined {
  const third = Math.floor(ratios.length / 3);
  if (third < LEAST_IN_THIRD) return undefined;
  const middles = [0, 1, 2].map((k) => median(ratios.slice(k * third, (k + 1) * third)));
  const change = Math.max(...middles) / Math.min(...middles);
  return change > RATIO_CHANGE ? change : undefined;
}
