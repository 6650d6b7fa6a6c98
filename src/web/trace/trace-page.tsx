/** Read a current trace: the file stays in the browser; what the meter could see is said before what the spray did. */
import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { proxy, type Remote, wrap } from 'comlink';
import { useCallback, useEffect, useRef, useState } from 'react';
import { faultLine } from '../../core/errors.ts';
import type { Setup } from '../../core/setup.ts';
import type { TraceTold } from '../../evidence/current/index.ts';
import type { TraceOptions } from '../../formats/trace/index.ts';
import { typedNumber } from '../plan/draft.ts';
import { setupFromText } from '../plan/setup-text.ts';
import { bytesText } from '../words.ts';
import { TraceRead } from './trace-read.tsx';
import type { TraceOpened, TraceWork } from './trace-worker.ts';

type Stage =
  | { kind: 'waiting'; said: string[] }
  | { kind: 'reading'; name: string; bytes: number; total: number }
  | { kind: 'read'; name: string; opened: TraceOpened };

interface Typed {
  column: string;
  unit: string;
  rate: string;
  decimal: '' | 'comma' | 'point';
  delimiter: '' | 'comma' | 'semicolon' | 'tab' | 'space';
  full_scale: string;
  resistor: string;
  bandwidth: string;
  capacitance: string;
  steady: string;
  flow_off: string;
}

/** A set-up document beside the trace. */
const SETUP_NAMES = /\.ya?ml$/i;

const EMPTY: Typed = {
  column: '',
  unit: '',
  rate: '',
  decimal: '',
  delimiter: '',
  full_scale: '',
  resistor: '',
  bandwidth: '',
  capacitance: '',
  steady: '',
  flow_off: '',
};

export function TracePage() {
  useDocumentTitle('Read a current trace · Steadycone');
  const [stage, setStage] = useState<Stage>({ kind: 'waiting', said: [] });
  const [files, setFiles] = useState<readonly File[]>([]);
  const [typed, setTyped] = useState(EMPTY);
  const work = useRef<Remote<TraceWork>>(null);
  useEffect(() => {
    const worker = new Worker(new URL('./trace-worker.ts', import.meta.url), { type: 'module' });
    work.current = wrap<TraceWork>(worker);
    return () => worker.terminate();
  }, []);
  const view = useCallback(
    async (from: number, to: number, columns: number) => work.current?.view(from, to, columns),
    [],
  );
  const read = async (chosen: readonly File[]) => {
    const trace = chosen.find((file) => !file.name.endsWith('.json') && !SETUP_NAMES.test(file.name));
    if (!trace || !work.current) return;
    const sidecar = await chosen.find((file) => file.name.endsWith('.json'))?.text();
    setStage({ kind: 'reading', name: trace.name, bytes: 0, total: trace.size });
    const progress = proxy((bytes: number) =>
      setStage({ kind: 'reading', name: trace.name, bytes, total: trace.size }),
    );
    const setup = await setupOf(chosen.find((file) => SETUP_NAMES.test(file.name)));
    if (setup !== undefined && 'fault' in setup) {
      setStage({ kind: 'waiting', said: setup.fault });
      return;
    }
    const answer = await work.current.open(
      { file: trace, sidecar, options: optionsFrom(typed), told: toldFrom(typed), setup: setup?.setup },
      progress,
    );
    if ('head' in answer) setStage({ kind: 'read', name: trace.name, opened: answer });
    else if ('faults' in answer) setStage({ kind: 'waiting', said: answer.faults.map(faultLine) });
    else if ('stopped' in answer) setStage({ kind: 'waiting', said: ['Stopped. Nothing was kept.'] });
    else setStage({ kind: 'waiting', said: [`Not read: ${answer.trouble}`] });
  };
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Read a current trace</h1>
      </div>
      <p>
        A spray current recorded through a resistor or a meter: a table (CSV, TSV), a WAV file, or raw samples
        with their JSON sidecar. You learn what regime each part shows, what this meter could not have seen,
        and which recording would decide.
      </p>
      <label className="load">
        Choose a trace; beside it, if you have them, its JSON sidecar and the set-up (YAML){' '}
        <input
          type="file"
          multiple
          onChange={(event) => {
            const chosen = [...(event.currentTarget.files ?? [])];
            setFiles(chosen);
            void read(chosen);
          }}
        />
      </label>
      <Asked
        typed={typed}
        onChange={setTyped}
        onAgain={files.length > 0 ? () => void read(files) : undefined}
      />
      <div role="status">
        {stage.kind === 'waiting' &&
          stage.said.map((line) => (
            <p key={line} className="fault">
              {line}
            </p>
          ))}
        {stage.kind === 'reading' && (
          <>
            <progress
              aria-label={`Reading ${stage.name}`}
              max={Math.max(1, stage.total)}
              value={stage.bytes}
            />
            <p>
              {bytesText(stage.bytes)} of {bytesText(stage.total)}{' '}
              <Button variant="default" onClick={() => void work.current?.stop()}>
                Stop
              </Button>
            </p>
          </>
        )}
      </div>
      {stage.kind === 'read' && <TraceRead name={stage.name} opened={stage.opened} view={view} />}
    </>
  );
}

/** What a file may leave open; each is asked only by the refusal that names it, and can be told here. */
function Asked({
  typed,
  onChange,
  onAgain,
}: {
  typed: Typed;
  onChange: (typed: Typed) => void;
  onAgain: (() => void) | undefined;
}) {
  const word = (key: Exclude<keyof Typed, 'decimal' | 'delimiter'>) => ({
    value: typed[key],
    autoComplete: 'off',
    onChange: (event: { currentTarget: { value: string } }) =>
      onChange({ ...typed, [key]: event.currentTarget.value }),
  });
  return (
    <details className="section">
      <summary>What the file does not say by itself: columns, meter, your own readings</summary>
      <div className="fields">
        <TextInput label="Column of the current" placeholder="by its heading" {...word('column')} />
        <TextInput label="Its unit" placeholder="by its heading" {...word('unit')} />
        <TextInput label="Samples per second" placeholder="by the time column" {...word('rate')} />
        <NativeSelect
          label="Between cells"
          value={typed.delimiter}
          data={[{ value: '', label: 'as found' }, 'comma', 'semicolon', 'tab', 'space']}
          onChange={(event) =>
            onChange({ ...typed, delimiter: event.currentTarget.value as Typed['delimiter'] })
          }
        />
        <NativeSelect
          label="Decimal sign"
          value={typed.decimal}
          data={[{ value: '', label: 'as found' }, 'comma', 'point']}
          onChange={(event) => onChange({ ...typed, decimal: event.currentTarget.value as Typed['decimal'] })}
        />
        <TextInput label="Current at full scale [nA]" placeholder="WAV only" {...word('full_scale')} />
        <TextInput label="Voltage across a resistor of [MΩ]" placeholder="none" {...word('resistor')} />
        <TextInput label="Capacitance across it [pF]" placeholder="not known" {...word('capacitance')} />
        <TextInput label="Bandwidth of the meter [Hz]" placeholder="from the noise" {...word('bandwidth')} />
        <TextInput label="Your own steady reading [nA]" placeholder="none yet" {...word('steady')} />
        <TextInput label="Voltage on, flow off [nA]" placeholder="not read" {...word('flow_off')} />
      </div>
      {onAgain && (
        <Button variant="default" onClick={onAgain}>
          Read again with these
        </Button>
      )}
    </details>
  );
}

function number(text: string): number | undefined {
  const value = typedNumber(text);
  return typeof value === 'number' ? value : undefined;
}

function toldFrom(typed: Typed): TraceTold {
  return {
    bandwidth_Hz: number(typed.bandwidth),
    resistor_MOhm: number(typed.resistor),
    capacitance_pF: number(typed.capacitance),
    steady_nA: number(typed.steady),
    flow_off_nA: number(typed.flow_off),
  };
}

/** The set-up whose plan says what to expect, when one was chosen with the trace. */
async function setupOf(file: File | undefined): Promise<{ setup: Setup } | { fault: string[] } | undefined> {
  if (file === undefined) return undefined;
  try {
    const { setup } = await setupFromText(await file.text());
    return { setup };
  } catch (trouble) {
    const said = trouble instanceof Error ? trouble.message : String(trouble);
    return { fault: said.split('\n').map((line) => `${file.name}: ${line}`) };
  }
}

function optionsFrom(typed: Typed): TraceOptions {
  return {
    column: typed.column || undefined,
    unit: typed.unit || undefined,
    rate_Hz: number(typed.rate),
    decimal: typed.decimal || undefined,
    delimiter: typed.delimiter || undefined,
    full_scale_nA: number(typed.full_scale),
    resistor_MOhm: number(typed.resistor),
  };
}
