/** What to say of a queue in sentences, most important first, and of one file in a few words. */
import { durationText } from '../words.ts';
import { type WarningChart, warningChart } from './early-warning.ts';
import type { QueueFile, QueueOrder } from './queue-file.ts';
import type { QueueReport } from './report-types.ts';

/** Name of the level among the trends. */
export const LEVEL = 'Level';

export function sentencesOf(report: Omit<QueueReport, 'sentences'>): string[] {
  const { counts, files, warning, recurring } = report;
  const known = files.length - counts.not_read;
  const list: string[] = [];
  if (known === 0) return [files.length === 0 ? 'No run file.' : 'None of the files could be read.'];
  const parts = [
    [counts.keep, 'keep'],
    [counts.keep_these_minutes, 'keep in part'],
    [counts.repeat, 'repeat'],
    [counts.cannot_tell, 'cannot tell'],
    [counts.not_read, 'not read'],
  ] as const;
  list.push(
    `${files.length} ${files.length === 1 ? 'file' : 'files'}: ${parts
      .filter(([count]) => count > 0)
      .map(([count, word]) => `${count} ${word}`)
      .join(
        ', ',
      )}.${report.measured_s > 0 ? ` ${durationText(report.kept_s)} of ${durationText(report.measured_s)} can be used.` : ''}`,
  );
  if (judgedUnlike(files))
    list.push(
      'The files were not all judged alike: the set-up, the minutes left out or the version of this program differ. Read them again together before you compare them.',
    );
  if (report.first_bad !== null) {
    const file = files[report.first_bad]!;
    list.push(`First bad file: ${file.name} (file ${report.first_bad + 1}). ${file.summary!.sentence}`);
  } else list.push('No bad file.');
  if (report.bad_from !== null) {
    list.push(`From ${files[report.bad_from]!.name} on most files are bad.`);
  }
  list.push(warning.sentence);
  list.push(...firstMover(report));
  list.push(...report.trends.filter((one) => one.p !== null && one.p < 0.01).map((one) => one.sentence));
  list.push(recurring.sentence);
  return list;
}

/**
 * Scatter that grows before the level falls is how a tip announces itself. The level is charted like the rest, upside down,
 * but raises no alarm: it follows the sample.
 */
function firstMover(report: Omit<QueueReport, 'sentences'>): string[] {
  const { charts, baseline_files } = report.warning;
  const alarm = (quantity: WarningChart['quantity']) =>
    charts.find((chart) => chart.quantity === quantity)?.alarm ?? null;
  const scatter = alarm('scatter');
  const limit = charts[0]?.limit;
  const upsideDown = report.trends
    .find((one) => one.quantity === LEVEL)
    ?.values.map((level) => (level !== null && level > 0 ? 1 / level : null));
  const level =
    limit === undefined || upsideDown === undefined
      ? null
      : (warningChart('injection time', upsideDown, limit, baseline_files)?.alarm ?? null);
  const weak = [alarm('injection time'), level].filter((index) => index !== null);
  if (scatter === null || weak.length === 0) return [];
  const first = Math.min(...weak);
  if (scatter < first) {
    return [
      'The scatter rose before fewer ions came: the spray grew unsteady before it grew weak, as a failing tip does.',
    ];
  }
  return first < scatter
    ? [
        'Fewer ions came before the scatter rose: think of the inlet, the place of the tip and the samples before the tip itself.',
      ]
    : [];
}

/** The events at times of their own, one line each. */
export function ownEventLines({ files, recurring }: QueueReport): string[] {
  return recurring.own.map(
    ({ file, time_s, kind }) => `${files[file]!.name}: ${kind} at ${clock(time_s)} (min:s)`,
  );
}

export function cautionsOf(by: QueueOrder, files: readonly QueueFile[]): string[] {
  const list = [
    'A run file cannot tell why a level falls: tip, inlet, position and sample look alike from here.',
  ];
  const [judged, ...others] = new Set(files.flatMap((file) => (file.summary ? [file.summary.judged] : [])));
  if (judged !== undefined && others.length === 0) list.push(`All files were judged with ${judged}.`);
  if (by === 'time of the file') {
    list.push('Times are the files’ own times less the length of the run; copying a file may change them.');
  }
  if (by === 'name' && files.length > 1) {
    list.push('Not every file tells when it began: the order is by name.');
  }
  return list;
}

function judgedUnlike(files: readonly QueueFile[]): boolean {
  return new Set(files.flatMap((file) => (file.summary ? [file.judged_by] : []))).size > 1;
}

/** 'keep', 'repeat' and so on with the minutes or the reason, for one line. */
export function keptText(file: QueueFile): string {
  if (file.summary === null) return `not read: ${file.refusal ?? 'no reason given'}`;
  const { grade, kept, broken, sentence } = file.summary;
  const end = broken === null ? '' : ' (the file breaks off)';
  if (grade === 'keep') return `${grade}${end}`;
  if (grade !== 'keep these minutes') return `${grade}: ${reasonIn(sentence)}${end}`;
  const minutes = kept.map((piece) => `${clock(piece.start_s)}–${clock(piece.end_s)}`).join(' ');
  return `keep ${minutes} (min:s)${end}`;
}

/** What a verdict's sentence says behind its colon. */
function reasonIn(sentence: string): string {
  return sentence
    .slice(sentence.indexOf(':') + 1)
    .replace(/\.$/, '')
    .trim();
}

function clock(time_s: number): string {
  const whole = Math.round(time_s);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
