/** The end of a blind rehearsal: what the person says, then the truth, how near the point came and how many readings it took. */
import { Button, NativeSelect } from '@mantine/core';
import { useState } from 'react';
import {
  type BenchControls,
  type BestPoint,
  REHEARSED_FAULTS,
  rehearsalSetup,
  type TruthDocument,
} from '../../rehearsal/index.ts';
import { figure, given, withUnit } from '../words.ts';

export interface Shown {
  truth: TruthDocument;
  best: BestPoint;
  said: string;
  /** Signal at the person's point over the best at that flow, averaged over the last second. */
  share: number;
  controls: BenchControls;
  readings: number;
  seconds: number;
}

export function SayAndShow({ onSay }: { onSay: (fault: string) => void }) {
  const [fault, setFault] = useState('');
  return (
    <section className="section" aria-label="Say and show">
      <h2>When you have found it</h2>
      <p>Leave the bench at your working point, name the fault, and see.</p>
      <div className="row" style={{ alignItems: 'end' }}>
        <NativeSelect
          label="What is wrong with this emitter?"
          value={fault}
          onChange={(event) => setFault(event.currentTarget.value)}
          data={[
            { value: '', label: 'choose' },
            { value: 'none', label: 'nothing: it is sound' },
            ...REHEARSED_FAULTS.map(({ id, name }) => ({ value: id, label: name })),
            { value: 'do not know', label: 'I do not know' },
          ]}
        />
        <Button disabled={fault === ''} onClick={() => onSay(fault)}>
          Show the truth
        </Button>
      </div>
    </section>
  );
}

export function TruthPart({ shown }: { shown: Shown }) {
  const { truth, best, said, share, controls, readings, seconds } = shown;
  const right = said === (truth.fault?.id ?? 'none');
  const was = truth.fault === null ? 'The emitter was sound.' : `The fault was: ${truth.fault.name}.`;
  const yours =
    said === 'none'
      ? 'that it is sound'
      : said === 'do not know'
        ? 'that you do not know'
        : (REHEARSED_FAULTS.find(({ id }) => id === said)?.name ?? said);
  const rows: [string, string, string][] = [
    ['Onset', withUnit(given(truth.onset_V), 'V'), 'of the sound, dry tip at the set-up’s distance'],
    [
      'Steady from',
      withUnit(given(truth.steady_from_V), 'V'),
      `a standing jet survives down to ${withUnit(given(truth.steady_down_to_V), 'V')}`,
    ],
    [
      'Several jets from',
      withUnit(given(truth.several_jets_from_V), 'V'),
      `it leans from ${withUnit(given(truth.tilt_from_V), 'V')}`,
    ],
    [
      'Rim',
      withUnit(given(truth.rim_um), 'µm'),
      `true diameter; the box says ${withUnit(given(rehearsalSetup.emitter.rim_um), 'µm')}`,
    ],
    [
      'Conductivity',
      withUnit(figure(truth.conductivity_S_m), 'S/m'),
      `${given(truth.conductivity_over_model, 2)} of what the model says`,
    ],
    ['Smallest steady flow', withUnit(given(truth.minimum_flow_nL_min), 'nL/min'), 'of the sound liquid'],
    [
      'Inlet’s axis',
      withUnit(given(truth.inlet_axis_at_mm, 2), 'mm'),
      'where the stage reads when the tip is on it',
    ],
  ];
  return (
    <section className="section" aria-label="The truth" aria-live="polite">
      <h2>The truth</h2>
      <p className="verdict">
        {was} You said {yours}: {right ? 'right' : 'not so'}.
      </p>
      <p>
        You took <strong>{readings}</strong> {readings === 1 ? 'reading' : 'readings'} in{' '}
        {seconds < 90 ? withUnit(seconds.toFixed(0), 's') : withUnit((seconds / 60).toFixed(1), 'min')} of
        bench time.{' '}
        {best.none ? (
          'With this fault no voltage holds a steady jet at your flow: there was no working point to find.'
        ) : (
          <>
            Your point gives <strong>{figure(100 * share, 2)} %</strong> of the best signal at your flow. The
            best: {withUnit(given(best.voltage_V, 3), 'V')} at {withUnit(given(best.distance_mm, 2), 'mm')},
            offset {withUnit(given(best.offset_mm, 2), 'mm')} or as far on the axis’s other side; yours:{' '}
            {withUnit(given(controls.voltage_V), 'V')} at {withUnit(given(controls.distance_mm), 'mm')},
            offset {withUnit(given(controls.offset_mm), 'mm')}.
          </>
        )}
      </p>
      <ul className="ledger">
        {rows.map(([name, value, note]) => (
          <li key={name}>
            <span>{name}</span>
            <span className="value">{value}</span>
            <span className="soft">{note}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
