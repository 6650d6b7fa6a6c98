/** A voltage walk as read: the few numbers that matter, the staircase, each step, and its way into the plan. */
import { Button } from '@mantine/core';
import { memo } from 'react';
import { Link } from 'wouter';
import { pictureSvg, stacked } from '../../core/picture.ts';
import type { Observation } from '../../core/window/index.ts';
import {
  type CurrentReading,
  type CurrentSweep,
  currentPicture,
  currentText,
  type PlannedWindow,
  regimeName,
  staircasePicture,
  type VoltageWalk,
  voltageWalkCsv,
} from '../../evidence/current/index.ts';
import { planHref } from '../address.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { saveJson, saveText } from '../save.ts';
import { StackedTable } from '../stacked-table.tsx';
import { useWidth } from '../use-width.ts';
import { figure } from '../words.ts';
import { WalkWords } from './walk-words.tsx';

export interface VoltageWalkPartProps {
  name: string;
  walk: VoltageWalk;
  reading: CurrentReading | undefined;
  planned: PlannedWindow | undefined;
  setupDocument: unknown;
}

const WIDEST = 960;
const FILE_WIDTH = 1100;

/** Its picture is laid out again only for another walk, not while somebody types or zooms. */
export const VoltageWalkPart = memo(function VoltageWalkPart({
  name,
  walk,
  reading,
  planned,
  setupDocument,
}: VoltageWalkPartProps) {
  const { ref, width } = useWidth();
  const short = name.replace(/\.[^.]*$/, '');
  const picture = () =>
    stacked(name, [
      ...(reading ? [{ heading: '', picture: currentPicture(reading, FILE_WIDTH, walk) }] : []),
      { heading: 'Voltage walk', picture: staircasePicture(walk, FILE_WIDTH, planned) },
    ]);
  return (
    <div ref={ref} data-walk="voltage">
      <WalkNumbers walk={walk} />
      {width > 0 && (
        <PictureView picture={staircasePicture(walk, Math.max(320, Math.min(width, WIDEST)), planned)} />
      )}
      <p className="soft">
        Filled: going up. Open, dashed: going down. Ringed: the calmest step. Upright lines: the middle 80 %
        of the windows.
      </p>
      <WalkWords walk={walk} />
      <details>
        <summary>Each step</summary>
        {walk.sweeps.map((sweep) => (
          <SweepTable key={sweep.direction + String(sweep.steps[0]?.from_s)} sweep={sweep} />
        ))}
      </details>
      <IntoThePlan
        walk={walk}
        invented={reading?.invented === true}
        setupDocument={setupDocument}
        short={short}
      />
      <div className="row" style={{ marginTop: '0.75rem' }}>
        <Button
          variant="default"
          onClick={() => saveText(`${short}-walk.csv`, 'text/csv;charset=utf-8', voltageWalkCsv(walk))}
        >
          Walk as CSV
        </Button>
        <Button
          variant="default"
          onClick={() => saveText(`${short}-walk.svg`, 'image/svg+xml', pictureSvg(picture()))}
        >
          Walk as SVG
        </Button>
      </div>
    </div>
  );
});

function WalkNumbers({ walk }: { walk: VoltageWalk }) {
  const best = (walk.sweeps.find((s) => s.direction === 'up') ?? walk.sweeps[0])?.best;
  const keys: [string, string, string][] = walk.sweeps.flatMap(({ direction, onset, lower, upper }) => {
    const way = direction === 'up' ? 'going up' : 'going down';
    return [
      ...(onset ? [[`Onset, ${way}`, between(onset), ''] as [string, string, string]] : []),
      ...(lower && upper
        ? [
            [`Steady window, ${way}`, `${low(lower)} to ${high(upper)}`, 'widest the steps allow'] as [
              string,
              string,
              string,
            ],
          ]
        : []),
    ];
  });
  if (walk.hysteresis_V)
    keys.push(['Hysteresis', `${figure(walk.hysteresis_V.low)} to ${figure(walk.hysteresis_V.high)} V`, '']);
  return (
    <dl className="keys">
      {best && (
        <div>
          <dt>Calmest step</dt>
          <dd className="big">{figure(best.voltage_V, 4)} V</dd>
          <dd>
            as calm from {figure(best.voltage_low_V, 4)} to {figure(best.voltage_high_V, 4)} V;{' '}
            {currentText(best.level_nA)} ({currentText(best.level_low_nA)} to{' '}
            {currentText(best.level_high_nA)}), scatter {figure(100 * best.scatter, 2)} %
          </dd>
        </div>
      )}
      {keys.map(([label, value, note]) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd style={{ fontSize: '1.3rem' }}>{value}</dd>
          {note !== '' && <dd className="soft">{note}</dd>}
        </div>
      ))}
    </dl>
  );
}

type Edge = NonNullable<CurrentSweep['onset']>;

function between({ above_V, at_most_V }: Edge): string {
  if (above_V === null) return `at or below ${at_most_V} V`;
  return at_most_V === null ? `${above_V} V or above` : `${above_V} to ${at_most_V} V`;
}

function low({ above_V, at_most_V }: Edge): string {
  return above_V === null ? `below ${at_most_V}` : `${above_V}`;
}

function high({ above_V, at_most_V }: Edge): string {
  return at_most_V === null ? `above ${above_V} V` : `${at_most_V} V`;
}

const STEP_COLUMNS = ['voltage [V]', 'regime', 'current', '10 to 90 %', 'scatter [%]', 'jets'];

function SweepTable({ sweep }: { sweep: CurrentSweep }) {
  return (
    <>
      <h3>{sweep.direction === 'up' ? 'Going up' : 'Going down'}</h3>
      <StackedTable
        columns={STEP_COLUMNS}
        rows={sweep.steps.map((s) => ({
          key: s.from_s,
          cells: [
            String(s.voltage_V),
            `${regimeName(s.regime)}, ${Math.round(100 * s.probabilities[s.regime])} %`,
            currentText(s.level_nA.value),
            `${currentText(s.level_nA.low)} to ${currentText(s.level_nA.high)}`,
            s.level_nA.value < 1 ? '–' : figure(100 * s.scatter, 2),
            String(s.jets ?? '–'),
          ],
        }))}
      />
    </>
  );
}

function IntoThePlan({
  walk: { observations },
  invented,
  setupDocument,
  short,
}: {
  walk: VoltageWalk;
  invented: boolean;
  setupDocument: unknown;
  short: string;
}) {
  if (observations.length === 0) return <p>The walk told no state that a plan could use.</p>;
  return (
    <div className="section">
      <h3>Into the plan</h3>
      <p>
        {observations.length} rows: both sides of every edge, and the calmest step with its current. Look at
        them first: what a trace calls steady may pulsate faster than it shows.
        {invented && <strong> The trace is invented: no plan of yours should learn from it.</strong>}
      </p>
      <details>
        <summary>The rows</summary>
        <ul>
          {observations.map((row) => (
            <li key={JSON.stringify(row)}>{rowText(row)}</li>
          ))}
        </ul>
      </details>
      <div className="row">
        <Button component={Link} href={planHref(setupDocument, observations)}>
          Use in the plan
        </Button>
        <Button variant="default" onClick={() => saveJson(`${short}-observations.json`, { observations })}>
          Observations as JSON
        </Button>
      </div>
      <p className="soft">
        {setupDocument === undefined
          ? 'No set-up was chosen with the trace: the Plan page opens with its example. Load your own set-up there; the rows stay.'
          : 'The Plan page opens with the set-up that was chosen with the trace.'}{' '}
        The file does the same on the command line: steadycone plan SETUP --observe FILE.
      </p>
    </div>
  );
}

function rowText({ tip_V, supply_V, seen, direction, current_nA }: Observation): string {
  const volts = tip_V === undefined ? `${supply_V} V at the supply` : `${tip_V} V at the tip`;
  return `${volts}: ${seen}${direction ? `, going ${direction}` : ''}${current_nA === undefined ? '' : `, ${current_nA} nA`}`;
}
