/** Pictures that stand alone: a queue with its nights and charts in one, a run by itself. */

import type { AgainstReading } from '../../evidence/against/index.ts';
import type { RunReading } from '../../evidence/index.ts';
import {
  eventPicture,
  hoursOf,
  nightPicture,
  nightsOf,
  type Picture,
  pictureSvg,
  type QueueReport,
  readingPicture,
  runAgainstPicture,
  runSidePicture,
  stacked,
  trendPicture,
  walkPicture,
  warningPicture,
} from '../../evidence/queue/index.ts';
import type { WalkReading } from '../../evidence/walk.ts';

const WIDE = 1000;

export function queueSvg(report: QueueReport): string {
  const nights = nightsOf(report, localOffset);
  const hours = hoursOf(nights);
  const events = eventPicture(report, WIDE);
  const pictures: { heading: string; picture: Picture }[] = [
    ...nights.map((night) => ({ heading: night.name, picture: nightPicture(night, WIDE, hours) })),
    ...report.warning.charts.map((chart) => ({ heading: '', picture: warningPicture(chart, report, WIDE) })),
    ...report.trends
      .filter((trend) => trend.files > 1)
      .map((trend) => ({ heading: '', picture: trendPicture(trend, report, WIDE) })),
    ...(events ? [{ heading: '', picture: events }] : []),
  ];
  const title = report.label === '' ? 'Queue' : `Queue ${report.label}`;
  const invented = report.invented ? ' · INVENTED DATA' : '';
  return pictureSvg(stacked(`${title}${invented}. ${report.sentences[0] ?? ''}`, pictures));
}

export function readingSvg(reading: RunReading, against?: AgainstReading): string {
  const level = readingPicture(reading, WIDE);
  const ratio = against && runAgainstPicture(reading, against, WIDE);
  const under = [runSidePicture(reading, WIDE), ratio].filter((picture) => picture !== undefined);
  if (under.length === 0) return pictureSvg(level);
  const parts = [level, ...under].map((picture) => ({ heading: '', picture }));
  return pictureSvg(
    stacked(`${reading.invented ? 'INVENTED DATA. ' : ''}${reading.verdict.sentence}`, parts),
  );
}

export function walkSvg(walk: WalkReading): string {
  return pictureSvg(walkPicture(walk, WIDE));
}

/** Minutes that this computer's clock is ahead of UTC at a moment. */
export function localOffset(moment_ms: number): number {
  return -new Date(moment_ms).getTimezoneOffset();
}
