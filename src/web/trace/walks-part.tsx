/** Walks on the trace: what the person did with voltage and flow while it was recorded, and what that says. */
import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useState } from 'react';
import type { CurrentReading, FlowWalk, PlannedWindow, VoltageWalk } from '../../evidence/current/index.ts';
import { typedNumber } from '../plan/draft.ts';
import { FlowWalkPart } from './flow-walk-part.tsx';
import { refusedLines } from './refused.ts';
import { StepsField } from './steps-field.tsx';
import type { WalksAnswer, WalksOpened, WalksTyped } from './trace-worker.ts';
import { VoltageWalkPart } from './voltage-walk-part.tsx';

export interface WalksPartProps {
  /** Name of the trace; undefined where none is open: then only typed currents can be read. */
  name: string | undefined;
  logged: boolean;
  /** The set-up's document where one was chosen, for the link to its plan. */
  setupDocument: unknown;
  /** A voltage walk that was read on the trace, the reading by its windows, and the planned window beside it. */
  walk: VoltageWalk | undefined;
  reading: CurrentReading | undefined;
  planned: PlannedWindow | undefined;
  onRead: (typed: WalksTyped, onProgress: (share: number) => void) => Promise<WalksAnswer>;
  onStop: () => void;
  onWalk: (walks: WalksOpened) => void;
}

const CHANNEL = 'channel';

export function WalksPart({
  name,
  logged,
  setupDocument,
  walk,
  reading,
  planned,
  onRead,
  onStop,
  onWalk,
}: WalksPartProps) {
  const [from, setFrom] = useState(logged ? CHANNEL : 'typed');
  const [steps, setSteps] = useState({ text: '', name: 'typed steps' });
  const [at, setAt] = useState<'not stated' | 'supply' | 'tip'>('not stated');
  const [series, setSeries] = useState('');
  const [flow, setFlow] = useState({ text: '', name: 'typed flows' });
  const [said, setSaid] = useState<{ about: 'voltage' | 'flow'; lines: string[] }>();
  const [busy, setBusy] = useState<'voltage' | 'flow'>();
  /** Of the file, where it is read again. */
  const [share, setShare] = useState(0);
  const [flowWalk, setFlowWalk] = useState<FlowWalk>();
  const ask = async (about: 'voltage' | 'flow', typed: WalksTyped) => {
    setBusy(about);
    setShare(0);
    setSaid(undefined);
    const answer = await onRead(typed, setShare);
    setBusy(undefined);
    if ('walks' in answer) {
      if (about === 'voltage') onWalk(answer.walks);
      else setFlowWalk(answer.walks.flow_walk);
    } else setSaid({ about, lines: refusedLines(answer, { stopped: 'Stopped.' }) });
  };
  const readVoltage = () => {
    const series_MOhm = typedNumber(series);
    if (series_MOhm !== undefined && !(typeof series_MOhm === 'number' && series_MOhm > 0))
      setSaid({ about: 'voltage', lines: [`Series resistor: "${series}" is no number above 0.`] });
    else if (from !== CHANNEL && steps.text.trim() === '')
      setSaid({ about: 'voltage', lines: ['Type the steps, or choose a file with them.'] });
    else
      void ask('voltage', {
        voltage: from === CHANNEL ? { text: CHANNEL, name: CHANNEL } : steps,
        voltage_at: at,
        series_MOhm,
      });
  };
  return (
    <section className="section" aria-label="Walks">
      <h2>Walks</h2>
      {name !== undefined && (
        <details className="walk" open={logged}>
          <summary>Voltage walk: where the spray began, was steady, and split</summary>
          <div className="fields" style={{ maxWidth: '52rem' }}>
            <NativeSelect
              label="Steps of the voltage"
              value={from}
              data={[
                ...(logged ? [{ value: CHANNEL, label: 'as logged' }] : []),
                { value: 'typed', label: 'typed or a file' },
              ]}
              onChange={(event) => setFrom(event.currentTarget.value)}
            />
            <NativeSelect
              label="Voltage read at"
              value={at}
              data={[
                { value: 'not stated', label: 'not stated' },
                { value: 'supply', label: 'the supply' },
                { value: 'tip', label: 'the tip' },
              ]}
              onChange={(event) => setAt(event.currentTarget.value as typeof at)}
            />
            <TextInput
              label="Resistor between supply and emitter [MΩ]"
              placeholder="none"
              autoComplete="off"
              value={series}
              onChange={(event) => setSeries(event.currentTarget.value)}
            />
          </div>
          {from !== CHANNEL && (
            <StepsField
              label="Steps: second=volts, or a table with time_s and voltage_V"
              placeholder="0=1500, 10=1600, 20=1700"
              fileLabel="or a file with the table"
              text={steps.text}
              onText={(text, file) => setSteps({ text, name: file })}
            />
          )}
          <div className="row" style={{ marginTop: '0.75rem' }}>
            <Button onClick={readVoltage} loading={busy === 'voltage'} disabled={busy === 'flow'}>
              Read the voltage walk
            </Button>
            {busy === 'voltage' && <ReadAgain share={share} onStop={onStop} />}
          </div>
          <Said lines={said?.about === 'voltage' ? said.lines : []} />
          {walk && (
            <VoltageWalkPart
              name={name}
              walk={walk}
              reading={reading}
              planned={planned}
              setupDocument={setupDocument}
            />
          )}
        </details>
      )}
      <details className="walk">
        <summary>Flow walk: current against flow, and the conductivity it implies</summary>
        <StepsField
          label={
            name === undefined
              ? 'Flows: a table with flow_nL_min and current_nA'
              : 'Flows: second=nL/min, or a table with flow_nL_min and time_s or current_nA'
          }
          placeholder={name === undefined ? 'flow_nL_min,current_nA' : '0=100, 30=200, 60=400'}
          fileLabel="or a file with the table"
          text={flow.text}
          onText={(text, file) => setFlow({ text, name: file })}
        />
        <div className="row">
          <Button
            loading={busy === 'flow'}
            disabled={busy === 'voltage'}
            onClick={() =>
              flow.text.trim() === ''
                ? setSaid({ about: 'flow', lines: ['Type the flows, or choose a file with them.'] })
                : void ask('flow', { flow })
            }
          >
            Read the flow walk
          </Button>
          {busy === 'flow' && <ReadAgain share={share} onStop={onStop} />}
        </div>
        <Said lines={said?.about === 'flow' ? said.lines : []} />
        {flowWalk && <FlowWalkPart name={name ?? 'flow'} walk={flowWalk} />}
      </details>
    </section>
  );
}

/** The steps are shorter than the windows read so far: the file is read once more. */
function ReadAgain({ share, onStop }: { share: number; onStop: () => void }) {
  if (share === 0) return undefined;
  return (
    <>
      <progress aria-label="Reading the trace again in shorter windows" max={1} value={share} />
      <Button variant="default" onClick={onStop}>
        Stop
      </Button>
    </>
  );
}

function Said({ lines }: { lines: readonly string[] }) {
  return (
    <div role="status">
      {lines.map((line) => (
        <p key={line} className="fault">
          {line}
        </p>
      ))}
    </div>
  );
}
