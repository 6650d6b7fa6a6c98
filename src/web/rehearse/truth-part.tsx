/** The end of a blind rehearsal: what was said beside what was, how near the point came, and how many readings it took. */
import {
  type BenchControls,
  type BenchState,
  type BestPoint,
  CONTROL_RANGE,
  type NamedAnswer,
  rehearsalSetup,
  type TruthDocument,
} from '../../rehearsal/index.ts';
import { StackedTable } from '../stacked-table.tsx';
import { figure, given, withUnit } from '../words.ts';
import { pulsationWords, regimeName } from './regime-words.ts';
import { roundsWords } from './rounds.ts';

export interface Shown {
  truth: TruthDocument;
  best: BestPoint;
  answer: NamedAnswer;
  /** Mean signal since the last knob was turned over the best at that flow. */
  share: number;
  controls: BenchControls;
  /** When it was said. */
  state: BenchState;
  readings: number;
  seconds: number;
}

export function TruthPart({ shown }: { shown: Shown }) {
  const { truth, best, answer, share, controls, state, readings, seconds } = shown;
  // Of the two best places the one that is nearer.
  const mirrored = 2 * best.axis_mm - best.offset_mm;
  const [near, far] =
    Math.abs(mirrored - controls.offset_mm) < Math.abs(best.offset_mm - controls.offset_mm)
      ? [mirrored, best.offset_mm]
      : [best.offset_mm, mirrored];
  const out = best.voltage_V > CONTROL_RANGE.voltage_V.high;
  const time = seconds < 90 ? withUnit(seconds.toFixed(0), 's') : withUnit((seconds / 60).toFixed(1), 'min');
  const rhythm = pulsationWords(state);
  const rounds = roundsWords();
  const points: [string, string, string][] = [
    ['Voltage', withUnit(given(controls.voltage_V), 'V'), withUnit(given(best.voltage_V, 3), 'V')],
    ['Distance', withUnit(given(controls.distance_mm), 'mm'), withUnit(given(best.distance_mm, 2), 'mm')],
    [
      'Offset',
      withUnit(given(controls.offset_mm), 'mm'),
      near === far
        ? withUnit(given(near, 2), 'mm')
        : `${withUnit(given(near, 2), 'mm')}; on the other side ${withUnit(given(far, 2), 'mm')}`,
    ],
    ['Signal', `${figure(100 * share, 2)} %`, '100 %'],
  ];
  return (
    <section className="section" aria-label="The truth" aria-live="polite">
      <h2>The truth</h2>
      <p className="verdict">{answer.words}</p>
      {truth.fault && (
        <ul>
          {truth.fault.words.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      <p>
        You took <strong>{readings}</strong> {readings === 1 ? 'reading' : 'readings'} in {time} of bench
        time. At your point, when you said it: <strong>{regimeName(state)}</strong>, at{' '}
        {given(state.ratio, 3)} times the onset of the moment.{rhythm === undefined ? '' : ` ${rhythm}`}
      </p>
      {best.none ? (
        <p>No voltage holds a steady jet at your flow: there was no working point to find.</p>
      ) : (
        <>
          <div className="scroll">
            <StackedTable columns={COLUMNS} rows={points.map((cells) => ({ key: cells[0], cells }))} />
          </div>
          {out && <p>The best voltage is more than this supply gives.</p>}
          {truth.fault && (
            <p className="soft">
              The best is for undisturbed moments: what the fault takes away meanwhile is lost to any point.
            </p>
          )}
        </>
      )}
      {rounds && <p>{rounds}</p>}
      <ul className="ledger">
        {hidden(truth).map(([name, value, note]) => (
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

const COLUMNS = ['Setting', 'Yours', 'Best at your flow'];

function hidden(truth: TruthDocument): [string, string, string][] {
  const { emitter } = rehearsalSetup;
  return [
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
      `true diameter; the box says ${withUnit(given(emitter.rim_um), 'µm')}`,
    ],
    [
      'Wetted',
      withUnit(given(2 * truth.contact_radius_um), 'µm'),
      'diameter of the contact line on the sound tip',
    ],
    [
      'Conductivity',
      withUnit(figure(truth.conductivity_S_m), 'S/m'),
      `${given(truth.conductivity_over_model, 2)} times what the model says`,
    ],
    ['Smallest steady flow', withUnit(given(truth.minimum_flow_nL_min), 'nL/min'), 'of the sound liquid'],
    [
      'Inlet’s axis',
      withUnit(given(truth.inlet_axis_at_mm, 2), 'mm'),
      'where the stage reads when the tip is on it',
    ],
    ['Ageing', withUnit(given(truth.ageing_percent_per_min, 2), '%/min'), 'growth of the contact line'],
  ];
}
