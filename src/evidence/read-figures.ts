/**
 * Level, scatter and grade of a run or a current trace in one line, to be held against another. Of a run the middle of its main
 * group's level and the scatter from scan to scan; of a trace the middle of its windows' levels and of their scatters.
 */
import { inputError } from '../core/errors.ts';
import { median } from '../core/numeric/robust.ts';
import type { ReadFigures } from '../core/settling/index.ts';
import type { CurrentReading } from './current/current-reading.ts';
import type { RunReading } from './run-reading.ts';

export function runFigures(reading: RunReading, file: string, reading_id?: string): ReadFigures {
  const group = reading.groups[reading.main_group];
  if (group === undefined || group.series.level.length === 0)
    throw inputError('missing', 'MS1 scans', file, 'a run with at least one MS1 scan');
  const scatter = group.scan_scatter ?? group.scatter;
  return {
    file,
    ...(reading_id === undefined ? {} : { reading_id }),
    from: 'run',
    level: median(group.series.level),
    ...(scatter === null ? {} : { scatter_percent: percent(scatter) }),
    grade: reading.verdict.grade,
    spray: reading.stability.grade,
    ...(reading.invented ? { invented: true } : {}),
  };
}

export function traceFigures({ windows, timeline, invented }: CurrentReading, file: string): ReadFigures {
  const longest = timeline.toSorted((a, b) => b.end_s - b.start_s - (a.end_s - a.start_s))[0];
  if (windows.length === 0 || longest === undefined)
    throw inputError('missing', 'samples', file, 'a trace long enough to be read');
  const level = median(windows.map(({ level_nA }) => level_nA));
  const scatter = median(windows.map(({ scatter_nA }) => scatter_nA));
  return {
    file,
    from: 'current',
    level: Math.max(0, level),
    ...(level > 0 ? { scatter_percent: percent(scatter / level) } : {}),
    grade: longest.label,
    spray: longest.regime,
    ...(invented ? { invented: true } : {}),
  };
}

function percent(share: number): number {
  return Number((100 * share).toFixed(2));
}
