/** Reports as one HTML file that needs nothing else: light and dark, and printed black on white. */
import { type AgainstReading, againstEventText } from '../against/index.ts';
import type { RunReading } from '../run-reading.ts';
import { besideText, durationText, percentText, timeMeant, timeText } from '../words.ts';
import { runAgainstPicture } from './against-picture.ts';
import type { EmitterComparison } from './compare.ts';
import { eventPicture } from './event-picture.ts';
import { hoursOf, type Night, nightsOf } from './nights.ts';
import { escaped, pictureSvg } from './picture.ts';
import { nightPicture, trendPicture, warningPicture } from './queue-pictures.ts';
import { keptText, ownEventLines } from './queue-sentences.ts';
import { usableText } from './queue-text.ts';
import { readingPicture } from './reading-picture.ts';
import type { QueueReport } from './report-types.ts';
import { runSidePicture } from './side-picture.ts';
import { sprayPicture } from './spray-picture.ts';

const WIDE = 1000;

export interface ReportStamp {
  /** When the report was made, ISO 8601. */
  made: string;
  version: string;
  offset_min: (moment_ms: number) => number;
}

export function queueHtml(report: QueueReport, stamp: ReportStamp, comparison?: EmitterComparison): string {
  const [first, ...rest] = report.sentences;
  const nights = nightsOf(report, stamp.offset_min);
  const hours = hoursOf(nights);
  const events = eventPicture(report, WIDE);
  const parts = [
    `<p class="say">${escaped(first ?? '')}</p>`,
    sentences(rest),
    ...nights.map((night) => nightPart(night, hours)),
    '<h2>Early warning for the emitter</h2>',
    `<p>${escaped(report.warning.rule)}</p>`,
    ...report.warning.charts.map((chart) => figure(pictureSvg(warningPicture(chart, report, WIDE), false))),
    '<h2>Trends over the files</h2>',
    sentences(report.trends.map((trend) => trend.sentence)),
    ...report.trends
      .filter((trend) => trend.files > 1)
      .map((trend) => figure(pictureSvg(trendPicture(trend, report, WIDE), false))),
    ...(events
      ? ['<h2>Events by run time</h2>', figure(pictureSvg(events, false)), sentences(ownEventLines(report))]
      : []),
    ...(comparison
      ? [
          '<h2>Compared with another emitter</h2>',
          sentences(comparison.differences.map((one) => one.sentence)),
          sentences(comparison.cautions),
        ]
      : []),
    '<h2>File by file</h2>',
    fileTable(report),
    '<h2>To bear in mind</h2>',
    sentences(report.cautions),
  ];
  return page(report.label === '' ? 'Queue' : `Queue ${report.label}`, parts, report.invented, stamp);
}

export function readingHtml(
  name: string,
  reading: RunReading,
  stamp: ReportStamp,
  against?: AgainstReading,
): string {
  const parts = [
    `<p class="say">${escaped(reading.verdict.sentence)}</p>`,
    ...(reading.broken
      ? [
          `<p>The file breaks off at byte ${reading.broken.byte}: ${escaped(reading.broken.reason)}. What stands before it was read.</p>`,
        ]
      : []),
    `<p><strong>Spray: ${reading.stability.grade}.</strong> ${escaped(reading.stability.sentence)}</p>`,
    sentences(reading.verdict.reasons),
    figure(pictureSvg(readingPicture(reading, WIDE), false)),
    ...sideFigure(reading),
    ...sprayFigure(reading),
    ...againstPart(reading, against),
    `<h2>Minutes to trust: ${percentText(reading.trustworthy_share)} ${timeMeant(reading)}</h2>`,
    `<p>${escaped(reading.trustworthy.map((t) => `${timeText(t.start_s)} to ${timeText(t.end_s)}`).join('; ') || 'None.')}</p>`,
    '<h2>Events</h2>',
    reading.events.length === 0
      ? '<p>None found.</p>'
      : sentences(
          reading.events.map(
            (event) =>
              `${event.sentence} Confidence ${event.confidence.toFixed(2)}: ${event.confidence_basis}.${event.causes && event.causes.length > 0 ? ` Could be: ${event.causes.join('; ')}.` : ''}${besideText(event)}`,
          ),
        ),
    ...(reading.method
      ? [
          '<h2>Phases of the method, each judged by itself</h2>',
          sentences(reading.method.phases.map(({ sentence }) => sentence)),
          `<p class="soft">Found from ${escaped(reading.method.from)}.</p>`,
        ]
      : []),
    ...(reading.traces
      ? ['<h2>Pressure and flow in the file</h2>', sentences(reading.traces.map(({ sentence }) => sentence))]
      : []),
    '<h2>What the scans tell</h2>',
    ...reading.groups.map((group) =>
      sentences([
        ...(group.spray?.sentences ?? []),
        ...(group.spray?.periods ?? []).map((period) => period.sentence),
        ...(group.rate?.sentences ?? []),
        ...(group.limits ? [group.limits.sentence] : []),
      ]),
    ),
    `<p class="soft">${escaped(reading.stability.definition)}</p>`,
    '<h2>What this file cannot decide</h2>',
    sentences([...reading.undecided, ...reading.lacks]),
    ...(reading.masked.length > 0
      ? [
          '<h2>Left out of the judgement</h2>',
          sentences(
            reading.masked.map((m) => `${timeText(m.start_s)} to ${timeText(m.end_s)}: ${m.reason}.`),
          ),
        ]
      : []),
    ...(reading.warnings.length > 0 ? ['<h2>Warnings</h2>', sentences(reading.warnings)] : []),
  ];
  return page(name, parts, reading.invented, stamp);
}

function againstPart(reading: RunReading, against: AgainstReading | undefined): string[] {
  if (!against) return [];
  const picture = runAgainstPicture(reading, against, WIDE);
  return [
    '<h2>Against good runs</h2>',
    ...(picture ? [figure(pictureSvg(picture, false))] : []),
    sentences([...against.sentences, ...against.events.map(againstEventText)]),
    ...(against.undecided.length > 0
      ? ['<h2>What this comparison cannot decide</h2>', sentences(against.undecided)]
      : []),
  ];
}

function sprayFigure(reading: RunReading): string[] {
  const group = reading.groups[reading.main_group];
  const picture = group ? sprayPicture(group, { from_s: group.start_s, to_s: group.end_s }, WIDE) : undefined;
  return picture ? [figure(pictureSvg(picture, false))] : [];
}

function sideFigure(reading: RunReading): string[] {
  const picture = runSidePicture(reading, WIDE);
  return picture ? [figure(pictureSvg(picture, false))] : [];
}

function nightPart(night: Night, hours: ReturnType<typeof hoursOf>): string {
  const of = `${night.runs.length} ${night.runs.length === 1 ? 'run' : 'runs'}, ${durationText(night.kept_s)} of ${durationText(night.measured_s)} to keep`;
  return `<h2>${escaped(night.name)}</h2><p>${of}</p>${figure(pictureSvg(nightPicture(night, WIDE, hours), false))}`;
}

function fileTable(report: QueueReport): string {
  const head = ['', 'File', 'What to do', 'Usable', 'Scatter', 'Injection time'];
  const rows = report.files.map((file, i) => {
    const run = file.summary;
    const cells = [
      String(i + 1),
      file.name,
      keptText(file),
      usableText(run),
      run?.scan_scatter != null ? percentText(run.scan_scatter) : '',
      run?.injection_ms != null ? `${Number(run.injection_ms.toPrecision(3))} ms` : '',
    ];
    return `<tr>${cells.map((cell) => `<td>${escaped(cell)}</td>`).join('')}</tr>`;
  });
  return `<div class="scroll"><table><thead><tr>${head.map((cell) => `<th scope="col">${cell}</th>`).join('')}</tr></thead><tbody>${rows.join('\n')}</tbody></table></div>`;
}

function sentences(lines: readonly string[]): string {
  return lines.length === 0 ? '' : `<ul>${lines.map((line) => `<li>${escaped(line)}</li>`).join('')}</ul>`;
}

function figure(svg: string): string {
  return `<figure>${svg}</figure>`;
}

function page(title: string, parts: readonly string[], invented: boolean, stamp: ReportStamp): string {
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)} · Steadycone</title><style>${STYLE}</style></head>
<body><main><h1>${escaped(title)}</h1>${invented ? '<p class="stamp">INVENTED DATA, no evidence of any spray</p>' : ''}
${parts.join('\n')}
<p class="soft">Made by Steadycone ${escaped(stamp.version)}, ${escaped(stamp.made)}.</p></main></body></html>
`;
}

const STYLE = `:root{--ground:#fffdf7;--ink:#1b2126;--soft:#4c545b;--rule:#b9b4a4;--liquid:#0b5563;--solid:#7a4312}
@media (prefers-color-scheme:dark){:root{--ground:#14191d;--ink:#ece8dd;--soft:#b4bbc0;--rule:#4b555d;--liquid:#8ecdd3;--solid:#e3b07d}}
@media print{:root{--ground:#fff;--ink:#000;--soft:#333;--rule:#999;--liquid:#0b5563;--solid:#7a4312}figure,tr,li{break-inside:avoid}h2{break-after:avoid}}
body{background:var(--ground);color:var(--ink);font:17px/1.5 "Segoe UI","Helvetica Neue",Arial,"Liberation Sans",sans-serif;margin:0}
main{max-width:62rem;margin:0 auto;padding:1.5rem 1rem 3rem}
h1,h2,.say{font-family:Charter,"Bitstream Charter",Georgia,"DejaVu Serif",serif}h2{margin:2rem 0 .5rem}
.say{font-size:1.5rem;line-height:1.3}.soft{color:var(--soft)}.stamp{display:inline-block;border:2px solid var(--solid);color:var(--solid);padding:.1rem .6rem;font-weight:700}
figure{margin:.5rem 0}figure svg{display:block;width:100%;height:auto}.scroll{overflow-x:auto}
table{border-collapse:collapse;font-variant-numeric:tabular-nums}th,td{text-align:left;padding:.35rem 1rem .35rem 0;border-top:1px solid var(--rule);vertical-align:top}
.d-ink{stroke:var(--ink);fill:none;stroke-width:1.2}.d-dim{stroke:var(--soft);fill:none}.d-composed{stroke:var(--liquid);fill:none;stroke-width:1.6;stroke-dasharray:7 4}
.d-hatch{stroke:var(--liquid);stroke-width:1.5}.d-hatch-solid{stroke:var(--solid);stroke-width:1.3}.d-trace{fill:none;stroke:var(--liquid);stroke-width:1.2}.d-liquid{fill:var(--liquid);fill-opacity:.2;stroke:none}
.d-event{stroke:var(--solid);fill:none;stroke-width:1.4}.d-glyph{fill:var(--solid);stroke:var(--solid)}
.d-text{fill:var(--ink);font-size:15px}.d-text-soft{fill:var(--soft);font-size:14px}`;
