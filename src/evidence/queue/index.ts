export { runAgainstPicture } from './against-picture.ts';
export { compareEmitters, type Difference, type EmitterComparison } from './compare.ts';
export {
  BASELINE_FILES,
  BASELINE_LEAST,
  FALSE_ALARM_SHARE,
  HORIZON_FILES,
  type WarningChart,
  warningChart,
  warningLimit,
} from './early-warning.ts';
export { eventPicture } from './event-picture.ts';
export { hoursOf, type Night, type NightRun, nightsOf } from './nights.ts';
export { type Mark, type Picture, pictureSvg, stacked } from './picture.ts';
export { byName, markSameContent, ordered, type QueueFile, type QueueOrder } from './queue-file.ts';
export { nightPicture, trendPicture, warningPicture } from './queue-pictures.ts';
export { type QueueOptions, queueReport } from './queue-report.ts';
export { keptText, ownEventLines } from './queue-sentences.ts';
export { csvCell, queueCsv, queueText } from './queue-text.ts';
export { readingPicture } from './reading-picture.ts';
export { type Readiness, type ReadyState, readiness, readyText } from './ready.ts';
export { type RecurringEvents, recurringEvents } from './recurring.ts';
export { queueHtml, readingHtml } from './report-html.ts';
export type { EarlyWarning, QueueReport } from './report-types.ts';
export { isBad, type RunSummary, runSummary } from './run-summary.ts';
export { runSidePicture, sidePicture } from './side-picture.ts';
export { sprayPicture } from './spray-picture.ts';
export { type Trend, trend } from './trend.ts';
export { walkPicture } from './walk-picture.ts';
