/** A queue of runs as a whole: which files to keep, the first bad one, what drifts, the early warning, what comes back. */
import {
  BASELINE_FILES,
  BASELINE_LEAST,
  FALSE_ALARM_SHARE,
  HORIZON_FILES,
  warningChart,
  warningLimit,
} from './early-warning.ts';
import { ordered, type QueueFile } from './queue-file.ts';
import { cautionsOf, LEVEL, sentencesOf } from './queue-sentences.ts';
import { recurringEvents } from './recurring.ts';
import type { EarlyWarning, QueueReport } from './report-types.ts';
import { isBad } from './run-summary.ts';
import { trend } from './trend.ts';

export interface QueueOptions {
  label?: string | undefined;
  /** Files that set the usual values, default BASELINE_FILES. */
  baseline_files?: number | undefined;
  seed?: number | undefined;
}

/** Share of bad files in the rest of the queue from which on it counts as lost. Judgement. */
const LOST_SHARE = 0.75;
/** One bad file at the very end says nothing of a rest. */
const LOST_LEAST = 2;

export function queueReport(unordered: readonly QueueFile[], options: QueueOptions = {}): QueueReport {
  const { label = '', baseline_files = BASELINE_FILES, seed = 1 } = options;
  const { files, by } = ordered(unordered);
  const runs = files.map((file) => (file.same_as === null ? file.summary : null));
  const known = runs.filter((run) => run !== null);
  const grade = (name: string) => known.filter((run) => run.grade === name).length;
  const counts = {
    keep: grade('keep'),
    keep_these_minutes: grade('keep these minutes'),
    repeat: grade('repeat'),
    cannot_tell: grade('cannot tell'),
    not_read: files.filter((file) => file.summary === null).length,
  };
  const bad = runs.map((run) => run !== null && isBad(run));
  const first = bad.indexOf(true);
  const judged = runs.map((run) => (run && run.grade !== 'cannot tell' ? run : null));
  const told = judged.filter((run) => run !== null);
  const trends = [
    trend(
      'Scatter from scan to scan',
      '%',
      judged.map((run) => run?.scan_scatter ?? null),
      'log',
    ),
    trend(
      LEVEL,
      '',
      judged.map((run) => run?.level ?? null),
      'log',
    ),
    trend(
      'Injection time',
      'ms',
      judged.map((run) => run?.injection_ms ?? null),
      'log',
    ),
    trend(
      'Level of the background ions',
      '',
      judged.map((run) => run?.background ?? null),
      'log',
    ),
    trend(
      'Share of usable minutes',
      '%',
      judged.map((run) => run?.kept_share ?? null),
      'linear',
    ),
  ];
  const warning = earlyWarning(files, judged, bad, baseline_files, seed);
  const recurring = recurringEvents(runs, seed);
  const report: Omit<QueueReport, 'sentences'> = {
    label,
    invented: known.some((run) => run.invented),
    order_by: by,
    files,
    counts,
    kept_s: told.reduce((sum, run) => sum + run.kept.reduce((s, k) => s + k.end_s - k.start_s, 0), 0),
    measured_s: told.reduce((sum, run) => sum + run.end_s - run.start_s, 0),
    first_bad: first < 0 ? null : first,
    bad_from: lostFrom(
      bad,
      runs.map((run) => run !== null),
    ),
    trends,
    warning,
    recurring,
    cautions: cautionsOf(by, files),
  };
  return { ...report, sentences: sentencesOf(report) };
}

function earlyWarning(
  files: readonly QueueFile[],
  runs: readonly QueueFile['summary'][],
  bad: readonly boolean[],
  wanted: number,
  seed: number,
): EarlyWarning {
  const baseline_files = Math.max(BASELINE_LEAST, Math.round(wanted));
  const series = [
    ['scatter', runs.map((run) => run?.scan_scatter ?? null)],
    ['injection time', runs.map((run) => run?.injection_ms ?? null)],
  ] as const;
  const full = series.filter(
    ([, values]) => values.filter((v) => v !== null && v > 0).length >= baseline_files,
  );
  const limit = warningLimit(baseline_files, Math.max(1, series.length), seed);
  const charts = full.flatMap(
    ([quantity, values]) => warningChart(quantity, values, limit, baseline_files) ?? [],
  );
  const rule = `The first ${baseline_files} files set the usual scatter and injection time. A running mean of the later files' distance from it (in spreads of the first files, each held within 4, weight 0.3) above ${limit.toFixed(2)} is an alarm, and so are two bad files in a row. By simulation the mean alarms in ${Math.round(100 * FALSE_ALARM_SHARE)} of 100 sound queues of ${HORIZON_FILES} further files.`;
  const causes: { file: number; reason: string }[] = charts.flatMap((chart) =>
    chart.alarm === null
      ? []
      : [
          {
            file: chart.alarm,
            reason: `the ${chart.quantity} keeps rising against the first ${baseline_files} files`,
          },
        ],
  );
  // Two bad files in a row: files that could not be read or judged stand between without breaking the row.
  let last = -1;
  for (let i = 0; i < bad.length; i++) {
    if (bad[i] && last >= 0) {
      causes.push({ file: i, reason: 'two bad files in a row' });
      break;
    }
    if (bad[i]) last = i;
    else if (runs[i]) last = -1;
  }
  causes.sort((a, b) => a.file - b.file);
  const alarm = causes[0] ?? null;
  const few =
    charts.length === 0 ? ` The charts begin after ${baseline_files} files that can be judged.` : '';
  const sentence =
    alarm === null
      ? `No early warning.${few}`
      : `Early warning at ${files[alarm.file]!.name} (file ${alarm.file + 1}): ${alarm.reason}. Look at the tip before the next precious sample.`;
  return { rule, baseline_files, charts, alarm, sentence };
}

/** Start of the longest rest of the queue that begins with a bad file and is mostly bad. */
function lostFrom(bad: readonly boolean[], known: readonly boolean[]): number | null {
  for (let i = 0; i < bad.length; i++) {
    if (!bad[i]) continue;
    const count = known.slice(i).filter(Boolean).length;
    const lost = bad.slice(i).filter(Boolean).length;
    if (lost >= LOST_LEAST && lost >= LOST_SHARE * count) return i;
  }
  return null;
}
