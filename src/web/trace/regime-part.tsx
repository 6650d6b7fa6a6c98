/** What the trace says: the verdict, regimes along time, events, the plan beside it, spectrum and distribution. */
import { Button } from '@mantine/core';
import { memo } from 'react';
import { Link } from 'wouter';
import { chartAxes, chartFrame, chartLine, chartUpright } from '../../core/chart.ts';
import { type Mark, type Picture, pictureSvg, px } from '../../core/picture.ts';
import { frequencyText } from '../../core/signal/index.ts';
import { type CurrentReading, currentCsv, currentPicture, regimeName } from '../../evidence/current/index.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { csvCell, saveJson, saveText } from '../save.ts';
import { Sentences } from '../sentences.tsx';
import { useWidth } from '../use-width.ts';
import { figure } from '../words.ts';
import { explainHref } from './explain-href.ts';
import { pageWords } from './page-words.ts';
import { timeUnit } from './time-unit.ts';

export interface RegimePartProps {
  name: string;
  reading: CurrentReading;
  onShow: (start_s: number, end_s: number) => void;
}

const WIDEST = 960;
const CHART_HEIGHT = 240;
const LISTED = 30;
/** Empty room beside the currents that were met, in bins. */
const BESIDE_BINS = 4;

export function Verdict({ reading }: { reading: CurrentReading }) {
  const [first, ...others] = reading.sentences;
  return (
    <>
      <p className="verdict" role="status">
        {first && pageWords(first)}
      </p>
      {others.map((line) => (
        <p key={line}>{pageWords(line)}</p>
      ))}
      {reading.cautions.map((line) => (
        <p key={line} className="caution">
          {pageWords(line)}
        </p>
      ))}
    </>
  );
}

/** Its charts are laid out again only for another reading, not while the trace is zoomed. */
export const RegimePart = memo(function RegimePart({ name, reading, onShow }: RegimePartProps) {
  const { ref, width } = useWidth();
  const wide = Math.max(320, Math.min(width, WIDEST));
  const short = name.replace(/\.[^.]*$/, '');
  return (
    <div ref={ref}>
      <section className="section" aria-label="Regimes along time">
        <h2>Regimes along time</h2>
        <p>Choose one to see it in the trace.</p>
        <ol className="events wide-names">
          {reading.timeline.slice(0, LISTED).map((stretch) => (
            <li key={stretch.start_s}>
              <button type="button" onClick={() => onShow(stretch.start_s, stretch.end_s)}>
                <strong>
                  {spanText(stretch.start_s, stretch.end_s)}: {stretch.label}
                </strong>
                <span>
                  {stretch.sentence}{' '}
                  <span className="soft">
                    {Math.round(100 * stretch.probability)} %; next {regimeName(stretch.next)},{' '}
                    {Math.round(100 * stretch.next_probability)} %.
                  </span>
                </span>
              </button>
            </li>
          ))}
        </ol>
        {reading.timeline.length > LISTED && <p>{reading.timeline.length - LISTED} more stand in the CSV.</p>}
      </section>
      {reading.events.length > 0 && (
        <section className="section" aria-label="Events">
          <h2>Events: {reading.events.length}</h2>
          <ol className="events wide-names">
            {reading.events.slice(0, LISTED).map((event, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: an event's number is its name
              <li key={k}>
                <button type="button" onClick={() => onShow(event.start_s, event.end_s)}>
                  <strong>
                    {spanText(event.start_s, event.end_s)}: {event.kind}
                  </strong>
                  <span>{event.sentence}</span>
                </button>
              </li>
            ))}
          </ol>
          {reading.events.length > LISTED && (
            <p>{reading.events.length - LISTED} more stand in the reading as JSON.</p>
          )}
        </section>
      )}
      {reading.comparison && <AgainstPlan comparison={reading.comparison} />}
      {width > 0 && (
        <section className="section" aria-label="Spectrum and distribution">
          <Chart
            name={`${short}-spectrum`}
            heading="Spectrum"
            saved="Spectrum"
            picture={spectrumPicture(reading, wide)}
            csv={() =>
              columns(
                ['frequency_Hz', 'density_nA2_Hz'],
                reading.spectrum.frequency_Hz,
                reading.spectrum.density_nA2_Hz,
              )
            }
          />
          <Chart
            name={`${short}-distribution`}
            heading="How often each current was met"
            saved="Distribution"
            picture={distributionPicture(reading, wide)}
            csv={() => columns(['current_nA', 'samples'], middles(reading), reading.distribution.counts)}
          />
        </section>
      )}
      <Sentences title="Warnings" lines={reading.warnings.map(pageWords)} />
      <Sentences title="What this trace cannot decide" lines={reading.not_known} />
      <div className="row">
        <Button component={Link} href={explainHref(reading)}>
          Explain this current
        </Button>
        <Button
          variant="default"
          onClick={() => saveText(`${short}-regimes.csv`, 'text/csv;charset=utf-8', currentCsv(reading))}
        >
          Windows as CSV
        </Button>
        <Button
          variant="default"
          onClick={() => saveText(`${short}.svg`, 'image/svg+xml', pictureSvg(currentPicture(reading, 1100)))}
        >
          Trace as SVG
        </Button>
        <Button variant="default" onClick={() => saveJson(`${short}-reading.json`, reading)}>
          Reading as JSON
        </Button>
      </div>
    </div>
  );
});

function AgainstPlan({ comparison }: { comparison: NonNullable<CurrentReading['comparison']> }) {
  return (
    <section className="section" aria-label="Against the plan">
      <h2>Against the plan</h2>
      <p>{pageWords(comparison.sentence)}</p>
      <ul>
        {comparison.meanings
          .filter((meaning) => meaning.probability > 0.03)
          .map((meaning) => (
            <li key={meaning.cause}>
              {meaning.cause}, {Math.round(100 * meaning.probability)} %: {meaning.why}
            </li>
          ))}
      </ul>
    </section>
  );
}

function Chart({
  name,
  heading,
  saved,
  picture,
  csv,
}: {
  name: string;
  heading: string;
  /** What the files are called on the keys. */
  saved: string;
  picture: Picture;
  csv: () => string;
}) {
  return (
    <>
      <h3>{heading}</h3>
      <PictureView picture={picture} />
      <div className="row" style={{ marginBottom: '1rem' }}>
        <Button
          variant="default"
          onClick={() => saveText(`${name}.svg`, 'image/svg+xml', pictureSvg(picture))}
        >
          {saved} as SVG
        </Button>
        <Button variant="default" onClick={() => saveText(`${name}.csv`, 'text/csv;charset=utf-8', csv())}>
          {saved} as CSV
        </Button>
      </div>
    </>
  );
}

/** Both axes logarithmic: abscissa in decades. */
function spectrumPicture(reading: CurrentReading, width: number): Picture {
  const { frequency_Hz, density_nA2_Hz } = reading.spectrum;
  const title = 'Spectrum of the current';
  const shown = frequency_Hz.flatMap((f, k) => (f > 0 && density_nA2_Hz[k]! > 0 ? [k] : []));
  if (shown.length < 2) return { width, height: 40, title, marks: [] };
  const x = shown.map((k) => Math.log10(frequency_Hz[k]!));
  const y = shown.map((k) => density_nA2_Hz[k]!);
  const xs: [number, number] = [x[0]!, x.at(-1)!];
  const ys: [number, number] = [Math.min(...y) / 1.5, Math.max(...y) * 1.5];
  const axes = chartAxes({ width, height: CHART_HEIGHT, x: xs, y: ys, logY: true });
  const names = { x: 'frequency', y: 'density, nA²/Hz', xLog: frequencyText };
  const marks: Mark[] = [
    ...chartFrame(axes, xs, ys, names, (v) => v.toExponential(0).replace('e+', 'e')),
    chartLine(axes, x, y),
    ...chartUpright(
      axes,
      Math.min(xs[1], Math.log10(reading.decidability.below_Hz)),
      'seen up to here',
      'd-dim',
    ),
  ];
  return { width, height: CHART_HEIGHT, title, marks };
}

function distributionPicture(reading: CurrentReading, width: number): Picture {
  const { counts, low_nA, high_nA } = reading.distribution;
  const step_nA = (high_nA - low_nA) / counts.length;
  const met = counts.flatMap((count, k) => (count > 0 ? [k] : []));
  const first = Math.max(0, (met[0] ?? 0) - BESIDE_BINS);
  const end = Math.min(counts.length, (met.at(-1) ?? counts.length - 1) + 1 + BESIDE_BINS);
  const x: [number, number] = [low_nA + first * step_nA, low_nA + end * step_nA];
  const most = Math.max(1, ...counts);
  const axes = chartAxes({ width, height: CHART_HEIGHT, x, y: [0, most * 1.05] });
  const each = Math.max(1, (axes.right - axes.left) / (end - first));
  const marks: Mark[] = met.map((k) => ({
    shape: 'rect',
    at: {
      x: px(axes.x(low_nA + k * step_nA)),
      y: px(axes.y(counts[k]!)),
      width: px(each),
      height: px(axes.bottom - axes.y(counts[k]!)),
      class: 'd-bar',
    },
  }));
  const names = { x: 'current, nA', y: 'samples' };
  marks.push(...chartFrame(axes, x, [0, most * 1.05], names));
  return { width, height: CHART_HEIGHT, title: 'How often each current was met', marks };
}

function middles({ distribution: { low_nA, high_nA, counts } }: CurrentReading): number[] {
  const each = (high_nA - low_nA) / counts.length;
  return counts.map((_, k) => low_nA + (k + 0.5) * each);
}

function columns(names: readonly string[], ...values: readonly number[][]): string {
  const rows = values[0]!.map((_, k) => values.map((column) => csvCell(column[k]!)).join(','));
  return `${[names.join(','), ...rows].join('\r\n')}\r\n`;
}

function spanText(start_s: number, end_s: number): string {
  const unit = timeUnit(Math.max(end_s - start_s, end_s));
  const end = `${figure(end_s / unit.seconds)} ${unit.name}`;
  if (figure(start_s / unit.seconds) === figure(end_s / unit.seconds)) return end;
  return `${figure(start_s / unit.seconds)} to ${end}`;
}
