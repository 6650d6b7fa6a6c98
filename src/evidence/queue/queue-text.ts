/** A queue as text for a terminal, and as a table for a spreadsheet. */
import { percentText } from '../words.ts';
import { keptText, ownEventLines } from './queue-sentences.ts';
import type { QueueReport } from './report-types.ts';
import type { RunSummary } from './run-summary.ts';

const MOST_MINUTES = 60;
const MOST_EVENTS = 8;

export function queueText(report: QueueReport): string {
  const lines: string[] = [];
  if (report.invented) lines.push('INVENTED DATA among the files: no evidence of any spray.');
  lines.push(...report.sentences);
  const own = ownEventLines(report);
  // Where nothing comes back there is nothing to tell them from, and the files' own lines hold them.
  if (report.recurring.recurring.length > 0) {
    lines.push(...own.slice(0, MOST_EVENTS).map((line) => `  ${line}`));
    if (own.length > MOST_EVENTS) lines.push(`  … and ${own.length - MOST_EVENTS} more`);
  }
  lines.push('');
  const rows = report.files.map((file, i) => {
    const run = file.summary;
    return [
      String(i + 1),
      file.name,
      usableText(run),
      run?.scan_scatter != null ? percentText(run.scan_scatter) : '',
      run?.injection_ms != null ? `${Number(run.injection_ms.toPrecision(3))} ms` : '',
      `${shorter(keptText(file))}${file.same_as ? ` (same content as ${file.same_as})` : ''}`,
    ];
  });
  lines.push(...table(['', 'file', 'usable', 'scatter', 'fill', 'what to do'], rows));
  lines.push('', `Rule of the early warning: ${report.warning.rule}`);
  for (const chart of report.warning.charts) {
    const last = chart.e.findLast((value) => value !== null);
    lines.push(
      `  ${chart.quantity}: usual ${chart.quantity === 'scatter' ? percentText(chart.usual) : `${Number(chart.usual.toPrecision(3))} ms`}, spread ${percentText(chart.spread_log)}, now ${last == null ? 'not yet told' : last.toFixed(2)} of ${chart.limit.toFixed(2)}.`,
    );
  }
  lines.push(...report.cautions.map((caution) => `Note: ${caution}`));
  return `${lines.join('\n')}\n`;
}

const HEADER =
  'file,sha256,began,grade,usable_share,kept_min,scan_scatter,injection_ms,clamped_share,level,background,events,warning_scatter,warning_injection,bad_reason';

/** One row for each file, in queue order. Lines end with CR LF (RFC 4180). */
export function queueCsv(report: QueueReport): string {
  const [scatter, injection] = (['scatter', 'injection time'] as const).map((quantity) =>
    report.warning.charts.find((chart) => chart.quantity === quantity),
  );
  const rows = report.files.map((file, i) => {
    const run = file.summary;
    return [
      file.name,
      file.sha256,
      file.began,
      run?.grade ?? 'not read',
      run?.grade === 'cannot tell' ? null : run?.kept_share,
      run?.kept
        .map((piece) => `${(piece.start_s / 60).toFixed(3)}-${(piece.end_s / 60).toFixed(3)}`)
        .join(' '),
      run?.scan_scatter,
      run?.injection_ms,
      run?.clamped_share,
      run?.level,
      run?.background,
      run?.events.length,
      scatter?.e[i],
      injection?.e[i],
      file.refusal ?? (run && run.grade === 'repeat' ? run.sentence : null),
    ]
      .map(csvCell)
      .join(',');
  });
  return `${[HEADER, ...rows].join('\r\n')}\r\n`;
}

/** A cell; one that a spreadsheet would run as a formula gets a quote mark in front. */
export function csvCell(value: string | number | null | undefined): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\n\r]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Blank where nothing can be told: too little to judge is no sign of a bad spray. */
export function usableText(run: RunSummary | null): string {
  return run === null || run.grade === 'cannot tell' ? '' : percentText(run.kept_share);
}

function shorter(text: string): string {
  return text.length > MOST_MINUTES ? `${text.slice(0, MOST_MINUTES - 1)}…` : text;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const wide = head.map((_, c) => Math.max(...[head, ...rows].map((row) => row[c]!.length)));
  return [head, ...rows].map((row) =>
    row
      .map((cell, c) => (c === row.length - 1 ? cell : cell.padEnd(wide[c]!)))
      .join('  ')
      .trimEnd(),
  );
}
