import { Button, NativeSelect } from '@mantine/core';
import { useMemo, useState } from 'react';
import { Link } from 'wouter';
import { readingCsv } from '../../evidence/reading-csv.ts';
import type { RunEvent, RunReading } from '../../evidence/run-reading.ts';
import { timeMeant } from '../../evidence/words.ts';
import type { Span } from '../decimate.ts';
import { explanationHref } from '../explain/explain-address.ts';
import { saveJson, saveText } from '../save.ts';
import { Sentences } from '../sentences.tsx';
import { count, figure, minutes } from '../words.ts';
import { around, ZoomRow } from '../zoom-row.tsx';
import { AgainstPart } from './against-part.tsx';
import { GroupFacts, GroupFindings } from './group-parts.tsx';
import { eventName } from './marks.ts';
import { ReadyPart } from './ready-part.tsx';
import { SideTrace } from './side-trace.tsx';
import { SprayTrace } from './spray-trace.tsx';
import { Trace } from './trace.tsx';
import { type LevelMode, levelScale, wholeSpan } from './trace-data.ts';
import { traceSvg } from './trace-svg.ts';
import { WalkPart } from './walk-part.tsx';

const gradeWords = {
  keep: 'Keep',
  'keep these minutes': 'Keep these minutes',
  repeat: 'Repeat',
  'cannot tell': 'Cannot tell',
} as const;

/** More events than this and the list opens on demand only. */
const LISTED_EVENTS = 40;

export function ReadingView({
  id,
  reading,
  runId,
}: {
  /** Undefined where the bench could not keep the reading. */
  id: string | undefined;
  reading: RunReading;
  runId: string | undefined;
}) {
  const { verdict } = reading;
  return (
    <>
      {!verdict.sentence.startsWith(gradeWords[verdict.grade]) && (
        <p className="grade">{gradeWords[verdict.grade]}</p>
      )}
      <p className="verdict" role="status">
        {verdict.sentence}
      </p>
      {reading.broken && (
        <p className="fault">
          The file broke off at byte {reading.broken.byte}: {reading.broken.reason}. What stood before is read
          below.
        </p>
      )}
      <p>
        <strong>Spray: {reading.stability.grade}.</strong> {reading.stability.sentence}
      </p>
      {reading.stability.definition !== '' && (
        <details>
          <summary>What these words mean</summary>
          <p>{reading.stability.definition}</p>
        </details>
      )}
      <p>
        {count(reading.ms1_count)} MS1 scans in {reading.format}
        {reading.groups.length > 1 ? `, in ${reading.groups.length} groups of like scans` : ''}.{' '}
        {runId && (
          <Link className="target" href={`/bench/${runId}`}>
            The run on the bench
          </Link>
        )}{' '}
        {id && (
          <Link className="target" href={explanationHref({ reading: id })}>
            Explain this run
          </Link>
        )}
      </p>
      {reading.groups.length > 0 && <TracePart id={id} reading={reading} />}
      <Sentences title="Why" lines={verdict.reasons} />
      <Sentences
        title="Phases of the method, each judged by itself"
        lines={reading.method?.phases.map(({ sentence }) => sentence) ?? []}
      />
      {reading.method && <p className="soft">Found from {reading.method.from}.</p>}
      <Sentences
        title="Pressure and flow in the file"
        lines={reading.traces?.map(({ sentence }) => sentence) ?? []}
      />
      <GroupFindings reading={reading} />
      <Sentences title="What this file cannot decide" lines={reading.undecided} />
      <Sentences title="What was not looked at" lines={reading.lacks} />
      <Sentences
        title="Left out of the judgement"
        lines={reading.masked.map(
          (span) => `${minutes(span.start_s)} to ${minutes(span.end_s)} min: ${span.reason}.`,
        )}
      />
      <Sentences title="Warnings" lines={reading.warnings} />
      <AgainstPart id={id} reading={reading} />
      <ReadyPart reading={reading} />
      <WalkPart reading={reading} name={id ?? 'reading'} />
      <GroupFacts reading={reading} />
    </>
  );
}

function TracePart({ id, reading }: { id: string | undefined; reading: RunReading }) {
  const name = id ?? 'reading';
  const [group, setGroup] = useState(reading.main_group);
  const [mode, setMode] = useState<LevelMode>('linear');
  const whole = useMemo(() => wholeSpan(reading, group), [reading, group]);
  const [span, setSpan] = useState<Span>(whole);
  const scale = useMemo(() => levelScale(reading, group, mode), [reading, group, mode]);
  const events = reading.events.filter((event) => event.group === group);
  const zoom = (next: Span) => setSpan(within(next, whole));
  return (
    <section className="section" aria-label="Trace">
      <div className="row" style={{ alignItems: 'flex-end', marginBottom: '0.75rem' }}>
        <NativeSelect
          label="Group of scans"
          value={String(group)}
          data={reading.groups.map((g, i) => ({
            value: String(i),
            label: `${g.label}, ${count(g.ms1_count)} scans`,
          }))}
          onChange={(event) => {
            const next = Number(event.currentTarget.value);
            setGroup(next);
            setSpan(wholeSpan(reading, next));
          }}
        />
        <NativeSelect
          label="Level drawn"
          value={mode}
          data={[
            { value: 'linear', label: 'linear' },
            { value: 'log', label: 'logarithmic' },
          ]}
          onChange={(event) => setMode(event.currentTarget.value === 'log' ? 'log' : 'linear')}
        />
      </div>
      <Trace reading={reading} group={group} scale={scale} span={span} onZoom={zoom} />
      <SideTrace reading={reading} span={span} />
      <SprayTrace reading={reading} group={group} span={span} />
      <ZoomRow
        span={span}
        factor={2}
        whole="Whole run"
        shown={`${minutes(span.from)} to ${minutes(span.to)} min`}
        onZoom={zoom}
        onWhole={() => setSpan(whole)}
      />
      <p className="soft" style={{ marginTop: '0.5rem' }}>
        Drag across the trace to zoom there.
      </p>
      <div className="row">
        {id === undefined ? (
          <Button onClick={() => saveText(`${name}.csv`, 'text/csv;charset=utf-8', readingCsv(reading))}>
            Series as CSV
          </Button>
        ) : (
          <Button component="a" href={`/api/readings/${encodeURIComponent(id)}.csv`} download={`${id}.csv`}>
            Series as CSV
          </Button>
        )}
        <Button
          variant="default"
          onClick={() =>
            saveText(`${name}-trace.svg`, 'image/svg+xml', traceSvg(reading, group, scale, span))
          }
        >
          Trace as SVG
        </Button>
        <Button variant="default" onClick={() => saveJson(`${name}.json`, reading)}>
          Reading as JSON
        </Button>
        {id !== undefined &&
          (
            [
              ['html', 'Report as HTML'],
              ['mzQC', 'Metrics as mzQC'],
            ] as const
          ).map(([as, words]) => (
            <Button
              key={as}
              component="a"
              variant="default"
              href={`/api/readings/${encodeURIComponent(id)}.${as}`}
              download={`${id}.${as}`}
            >
              {words}
            </Button>
          ))}
      </div>
      {group === reading.main_group && <Trustworthy reading={reading} />}
      <Events
        events={events}
        onChoose={(event) => {
          const length = Math.max(event.end_s - event.start_s, 2 * (reading.groups[group]?.interval_s ?? 1));
          zoom(around((event.start_s + event.end_s) / 2, 6 * length));
        }}
      />
    </section>
  );
}

function Trustworthy({ reading }: { reading: RunReading }) {
  if (reading.verdict.grade === 'cannot tell')
    return (
      <div className="section">
        <h2>Minutes to trust: this file cannot tell</h2>
        <p>Too little to judge is no sign of a bad spray.</p>
      </div>
    );
  const share = Math.round(100 * reading.trustworthy_share);
  return (
    <div className="section">
      <h2>
        Minutes to trust: {share} % {timeMeant(reading)}
      </h2>
      {reading.trustworthy.length === 0 ? (
        <p>None.</p>
      ) : (
        <p style={{ fontSize: '1.2rem' }}>
          {reading.trustworthy.map((t) => `${minutes(t.start_s)} to ${minutes(t.end_s)} min`).join('; ')}
        </p>
      )}
    </div>
  );
}

function Events({ events, onChoose }: { events: readonly RunEvent[]; onChoose: (event: RunEvent) => void }) {
  const [all, setAll] = useState(false);
  const shown = all ? events : events.slice(0, LISTED_EVENTS);
  return (
    <div className="section">
      <h2>
        {events.length === 0 ? 'No events found in this group' : `Events in this group: ${events.length}`}
      </h2>
      {events.length > 0 && <p>Choose one to see it in the trace.</p>}
      <ol className="events">
        {shown.map((event, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: an event's number in this group is its name
          <li key={i}>
            <button type="button" onClick={() => onChoose(event)}>
              <strong>{eventName(event, i)}</strong>
              <span>
                {event.sentence}{' '}
                <span className="soft">
                  On the trace {minutes(event.start_s)} to {minutes(event.end_s)} min. Confidence{' '}
                  {figure(event.confidence, 2)}: {event.confidence_basis}.
                  {event.common === true && ' All ions changed together.'}
                  {event.causes && event.causes.length > 0 && ` Could be: ${event.causes.join('; ')}.`}
                  {event.beside?.map((line) => ` ${line}`)}
                </span>
              </span>
            </button>
          </li>
        ))}
      </ol>
      {shown.length < events.length && (
        <Button variant="default" onClick={() => setAll(true)}>
          List all {events.length} events
        </Button>
      )}
    </div>
  );
}

/** Keeps a span inside the run and above a millisecond. */
function within(span: Span, whole: Span): Span {
  const size = Math.min(Math.max(span.to - span.from, 1e-3), whole.to - whole.from);
  const from = Math.min(Math.max(span.from, whole.from), whole.to - size);
  return { from, to: from + size };
}
