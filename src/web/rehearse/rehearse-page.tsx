/**
 * Rehearse: a simulated bench with a hidden emitter. Open: everything is seen. Blind: the meniscus is hidden, one finds the
 * working point and names the fault from the signals, then the truth is shown and the readings are counted.
 */
import { Button, NativeSelect } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useCallback, useEffect, useState } from 'react';
import { useLocation, useSearch } from 'wouter';
import { pictureSvg, stacked } from '../../core/picture.ts';
import {
  ASSUMPTIONS,
  DIFFERS,
  METERS,
  type MeterName,
  namedFault,
  type Reading,
} from '../../rehearsal/index.ts';
import { Assumptions } from '../assumptions.tsx';
import { saveText } from '../save.ts';
import { figure, withUnit } from '../words.ts';
import { type Address, addressOf, hrefOf } from './address.ts';
import { CanvasFigure } from './canvas-figure.tsx';
import { ReadingsTable } from './readings-table.tsx';
import { rateWords, regimeWords } from './regime-words.ts';
import { keepRound } from './rounds.ts';
import { FAULT_GROUPS, SayAndShow } from './say-part.tsx';
import { tipMarks } from './tip-marks.ts';
import { currentCsv, currentMarks, signalMarks, zoomMarks } from './trace-marks.ts';
import { type Shown, TruthPart } from './truth-part.tsx';
import { TurnedRows } from './turned-rows.tsx';
import { type Rehearsal, useRehearsal } from './use-rehearsal.ts';

/** Words and table follow the bench so often [ms]. */
const WORDS_MS = 500;
const HEIGHT = { tip: 290, trace: 180 };

export function RehearsePage() {
  useDocumentTitle('Rehearse · Steadycone');
  const address = addressOf(useSearch());
  const [, navigate] = useLocation();
  const go = (change: Partial<Address>) => navigate(hrefOf({ ...address, ...change }), { replace: true });
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Rehearse</h1>
        <span className="stamp">INVENTED</span>
      </div>
      <p>
        A simulated bench with a hidden emitter, number {address.seed}.{' '}
        <strong>Nothing here touches a real supply:</strong> every voltage on this page is simulated.
      </p>
      <div className="row" style={{ alignItems: 'end' }}>
        <NativeSelect
          className="rehearse-choice"
          label="How"
          value={address.blind ? 'blind' : 'open'}
          onChange={(event) => go({ blind: event.currentTarget.value === 'blind', fault: 'none' })}
          data={[
            { value: 'open', label: 'open: all is seen' },
            { value: 'blind', label: 'blind: the meniscus is hidden' },
          ]}
        />
        {!address.blind && (
          <NativeSelect
            className="rehearse-choice"
            label="Fault"
            value={address.fault}
            onChange={(event) => go({ fault: event.currentTarget.value })}
            data={[{ value: 'none', label: 'none' }, ...FAULT_GROUPS]}
          />
        )}
        <NativeSelect
          className="rehearse-choice"
          label="Current meter"
          value={address.meter}
          onChange={(event) => go({ meter: event.currentTarget.value as MeterName })}
          data={Object.entries(METERS).map(([value, { words }]) => ({ value, label: words }))}
        />
        <Button variant="default" onClick={() => go({ seed: address.seed + 1 })}>
          Another hidden emitter
        </Button>
      </div>
      <Bench key={hrefOf(address)} address={address} />
      <Assumptions title="What this bench assumes" assumed={ASSUMPTIONS} differs={DIFFERS} />
    </>
  );
}

function Bench({ address }: { address: Address }) {
  const { seed, blind, meter } = address;
  const rehearsal = useRehearsal(seed, blind ? 'maybe' : address.fault, meter);
  const { start, memory, trouble, running, setRunning } = rehearsal;
  const [shown, setShown] = useState<Shown>();
  const readings = useSlowly(rehearsal);
  const hidden = blind && shown === undefined;

  const drawTip = useCallback(
    (width: number, height: number) =>
      start && tipMarks(start, hidden ? undefined : memory.frame?.picture, width, height).picture,
    [start, memory, hidden],
  );
  const drawCurrent = useCallback((w: number, h: number) => currentMarks(memory, w, h), [memory]);
  const drawSignal = useCallback((w: number, h: number) => signalMarks(memory, w, h), [memory]);
  const drawZoom = useCallback(
    (w: number, h: number) => zoomMarks(memory.frame?.zoom ?? new Float32Array(2), start?.rate_Hz ?? 1, w, h),
    [memory, start],
  );

  if (trouble) return <p className="fault">The bench could not be set up: {trouble}</p>;
  if (!start) return <p role="status">Solving the onset of the hidden emitter; this takes a moment.</p>;

  const state = memory.frame?.state;
  const lately = memory.lately(1);
  const words = state && regimeWords(state);
  const rate = state && rateWords(state);
  const say = async (said: string) => {
    const answer = await rehearsal.desk()?.truth(rehearsal.controls);
    if (!answer) return;
    const { truth, best } = answer;
    const share = best.level > 0 ? Math.min(1, memory.level() / best.level) : 0;
    const named = namedFault(said, truth.fault?.id ?? 'none');
    const count = memory.readings().length;
    keepRound({ seed, kind: named.kind, share: best.none ? undefined : share, readings: count });
    const controls = { ...rehearsal.controls };
    setShown({ ...answer, answer: named, share, controls, readings: count, seconds: memory.time_s });
  };
  const savePicture = () => {
    const parts = [
      { heading: '', picture: drawTip(900, HEIGHT.tip)! },
      { heading: '', picture: currentMarks(memory, 900, 260) },
      { heading: '', picture: drawZoom(900, 260) },
      { heading: '', picture: signalMarks(memory, 900, 260) },
    ];
    const title = `Invented by the rehearsal, emitter ${seed}; not a measurement`;
    saveText('rehearsal.svg', 'image/svg+xml', pictureSvg(stacked(title, parts)));
  };
  return (
    <>
      <div
        className="rehearse"
        data-ready={state ? 'true' : 'false'}
        data-bench-s={memory.time_s}
        data-regime={hidden ? undefined : state?.regime}
      >
        <div className="rehearse-picture">
          <CanvasFigure
            rehearsal={rehearsal}
            label={hidden ? 'The tip; its meniscus is hidden' : 'The tip with its meniscus, to scale'}
            height={HEIGHT.tip}
            draw={drawTip}
          >
            {hidden
              ? 'To scale. Blind: what the liquid does is hidden until you have said what is wrong.'
              : (rate ??
                'To scale. Plain: the solved equilibrium. Hatched: composed, since no static shape exists above the onset. A jet too thin to see is drawn thicker; liquid beyond the rim is drawn at the face.')}
          </CanvasFigure>
          {!hidden && words && (
            <p className="next" aria-live="polite">
              {words.now} <span className="soft">{words.next}</span>
            </p>
          )}
          {hidden && (
            <p className="next">
              Find the working point by current, signal and pressure, then say what is wrong.{' '}
              <span className="soft">A slow current meter may call a pulsating spray steady.</span>
            </p>
          )}
          <TurnedRows rehearsal={rehearsal} />
          <div className="row" style={{ marginTop: '0.75rem' }}>
            <Button variant="default" onClick={() => setRunning(!running)}>
              {running ? 'Hold everything' : 'Go on'}
            </Button>
            <Button variant="default" onClick={savePicture}>
              Picture and traces as SVG
            </Button>
            <Button
              variant="default"
              onClick={() => saveText('rehearsal-current.csv', 'text/csv', currentCsv(memory))}
            >
              Current as CSV
            </Button>
          </div>
        </div>
        <div className="rehearse-traces">
          <CanvasFigure
            rehearsal={rehearsal}
            label="Signal of the mass spectrometer over the last two minutes"
            height={HEIGHT.trace}
            every_ms={100}
            draw={drawSignal}
          >
            What the run file would hold, a value a second; 100 % is this emitter’s best at 300 nL/min.
          </CanvasFigure>
          <CanvasFigure
            rehearsal={rehearsal}
            label="Spray current over the last twenty seconds"
            height={HEIGHT.trace}
            draw={drawCurrent}
          >
            Lowest to highest sample as bars, the mean as the line. {lately && lastSecond(lately)}
          </CanvasFigure>
          <CanvasFigure
            rehearsal={rehearsal}
            label="The last samples of the spray current one by one"
            height={HEIGHT.trace}
            every_ms={300}
            draw={drawZoom}
          >
            The last samples one by one, through this meter.{' '}
            {state && `Pressure before the column: ${withUnit(figure(state.pressure_bar, 3), 'bar')}.`}
          </CanvasFigure>
        </div>
      </div>
      {blind && shown === undefined && (
        <SayAndShow readings={readings.length} onSay={(said) => void say(said)} />
      )}
      {shown && <TruthPart shown={shown} />}
      <ReadingsTable readings={readings} />
    </>
  );
}

/** The readings, some times a second; the words of the page follow. */
function useSlowly({ memory, start }: Rehearsal): Reading[] {
  const [readings, setReadings] = useState<Reading[]>([]);
  useEffect(() => {
    if (start === undefined) return undefined;
    const timer = setInterval(() => setReadings(memory.readings()), WORDS_MS);
    return () => clearInterval(timer);
  }, [memory, start]);
  return readings;
}

function lastSecond({ mean_A, spread }: { mean_A: number; spread: number }): string {
  if (Math.abs(mean_A) < 1e-9) return 'In the last second: mean below 1 nA.';
  return `In the last second: mean ${withUnit(figure(mean_A * 1e9), 'nA')}, spread of its 5 ms means ${withUnit(figure(100 * spread, 2), '%')}.`;
}
