import { Button } from '@mantine/core';
import { useMemo } from 'react';
import { Link } from 'wouter';
import { eventPicture } from '../../evidence/queue/event-picture.ts';
import { hoursOf, type Night, nightsOf } from '../../evidence/queue/nights.ts';
import { nightPicture, trendPicture, warningPicture } from '../../evidence/queue/queue-pictures.ts';
import { keptText, ownEventLines } from '../../evidence/queue/queue-sentences.ts';
import type { QueueReport } from '../../evidence/queue/report-types.ts';
import { durationText } from '../../evidence/words.ts';
import { queueAddress } from '../api.ts';
import { explanationHref } from '../explain/explain-address.ts';
import { Sentences } from '../sentences.tsx';
import { useWidth } from '../use-width.ts';
import { Compare } from './compare.tsx';
import { Earlier } from './earlier.tsx';
import { PictureView } from './picture-view.tsx';

const files = [
  ['csv', 'Files as CSV'],
  ['svg', 'Pictures as SVG'],
  ['html', 'Report as HTML'],
  ['mzqc', 'Metrics as mzQC'],
] as const;

/** The frame around a picture [px]. */
const BORDERS_PX = 2;
/** Drawings are laid out for the room they get, within these bounds [px]. */
const NARROWEST = 300;
const WIDEST = 1100;

export function QueueView({ report, label }: { report: QueueReport; label: string }) {
  const { ref, width } = useWidth();
  const wide = Math.min(WIDEST, Math.max(NARROWEST, Math.floor(width) - BORDERS_PX));
  const nights = useMemo(() => nightsOf(report, (ms) => -new Date(ms).getTimezoneOffset()), [report]);
  const hours = hoursOf(nights);
  const [first, ...rest] = report.sentences;
  const undated = report.files.filter((file) => file.summary !== null && file.began === null);
  return (
    <div ref={ref}>
      <p className="verdict" role="status">
        {first}
      </p>
      <ul>
        {rest.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <div className="row">
        {files.map(([as, words], i) => (
          <Button
            key={as}
            component="a"
            href={queueAddress(label, as)}
            download
            {...(i === 0 ? {} : { variant: 'default' })}
          >
            {words}
          </Button>
        ))}
      </div>
      {width > 0 && (
        <>
          {nights.map((night) => (
            <NightPart key={night.date} night={night} hours={hours} width={wide} />
          ))}
          {nights.length > 0 && (
            <p className="soft">
              Hatched: minutes to keep. Crossed out: a bad run. Hours in local time, the same on every strip.
            </p>
          )}
          {undated.length > 0 && (
            <p>{undated.length} files do not tell when they began and stand in no night.</p>
          )}
          <section className="section" aria-labelledby="early-warning">
            <h2 id="early-warning">Early warning for the emitter</h2>
            <p>{report.warning.sentence}</p>
            {report.warning.charts.map((chart) => (
              <PictureView key={chart.quantity} picture={warningPicture(chart, report, wide)} />
            ))}
            <p className="soft">{report.warning.rule}</p>
          </section>
          <section className="section" aria-labelledby="trends">
            <h2 id="trends">Trends over the files</h2>
            <ul>
              {report.trends.map((trend) => (
                <li key={trend.quantity}>{trend.sentence}</li>
              ))}
            </ul>
            {report.trends
              .filter((trend) => trend.files > 1)
              .map((trend) => (
                <PictureView key={trend.quantity} picture={trendPicture(trend, report, wide)} />
              ))}
          </section>
        </>
      )}
      {width > 0 && <EventPart report={report} width={wide} />}
      <Earlier label={label} />
      <Compare label={label} />
      <section className="section" aria-labelledby="every-file">
        <h2 id="every-file">Every file in words</h2>
        <ol className="queue-files">
          {report.files.map((file) => (
            <li key={`${file.name} ${file.sha256}`}>
              <div>
                {file.reading_id ? (
                  <Link className="target" href={`/read/${file.reading_id}`}>
                    {file.name}
                  </Link>
                ) : (
                  <span>{file.name}</span>
                )}
                <span>
                  {keptText(file)}
                  {file.same_as && ` (same content as ${file.same_as})`}
                </span>
                {file.reading_id && (
                  <Link
                    className="target"
                    href={explanationHref({ reading: file.reading_id, emitter: label })}
                    aria-label={`Explain ${file.name}`}
                  >
                    Explain
                  </Link>
                )}
              </div>
            </li>
          ))}
        </ol>
      </section>
      <Sentences title="To bear in mind" lines={report.cautions} />
    </div>
  );
}

/** Events that come back with the method, beside those at times of their own, which point at the spray or the room. */
function EventPart({ report, width }: { report: QueueReport; width: number }) {
  const picture = eventPicture(report, width);
  if (!picture) return null;
  const { own } = report.recurring;
  return (
    <section className="section" aria-labelledby="events-by-time">
      <h2 id="events-by-time">Events by run time</h2>
      <p>{report.recurring.sentence}</p>
      <PictureView picture={picture} />
      {own.length > 0 && (
        <details>
          <summary>Events at times of their own: {own.length}</summary>
          <ul>
            {ownEventLines(report).map((line, i) => {
              const { name, reading_id } = report.files[own[i]!.file]!;
              return (
                <li key={line}>
                  {reading_id ? <Link href={`/read/${reading_id}`}>{name}</Link> : name}
                  {line.slice(name.length)}
                </li>
              );
            })}
          </ul>
        </details>
      )}
    </section>
  );
}

function NightPart(props: { night: Night; hours: ReturnType<typeof hoursOf>; width: number }) {
  const { night, hours, width } = props;
  const bad = night.runs.filter((run) => run.bad);
  const part = night.runs.filter((run) => !run.bad && run.words.startsWith('keep '));
  const runs = `${night.runs.length} ${night.runs.length === 1 ? 'run' : 'runs'}`;
  return (
    <section className="section" aria-label={night.name}>
      <h2>{night.name}</h2>
      <p>
        {runs}, {durationText(night.kept_s)} of {durationText(night.measured_s)} to keep.{' '}
        {bad.length === 0 ? 'None is bad.' : 'Bad: '}
        <Names runs={bad} />
        {part.length > 0 && ' Keep in part: '}
        <Names runs={part} />
      </p>
      <PictureView picture={nightPicture(night, width, hours)} />
    </section>
  );
}

function Names({ runs }: { runs: Night['runs'] }) {
  return (
    <>
      {runs.map((run, i) => (
        <span key={run.file}>
          {i > 0 && ', '}
          {run.reading_id ? <Link href={`/read/${run.reading_id}`}>{run.name}</Link> : run.name}
          {i === runs.length - 1 && '.'}
        </span>
      ))}
    </>
  );
}
