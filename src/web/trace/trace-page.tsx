/** Read a current trace: the file stays in the browser; what the meter could see is said before what the spray did. */
import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useMemo, useState } from 'react';
import { resistorTold, walkSteps } from '../../evidence/current/index.ts';
import { bytesText } from '../words.ts';
import { PreviewPart } from './preview-part.tsx';
import { FileFields, MeterFields } from './told-fields.tsx';
import { TraceAssumptions } from './trace-assumptions.tsx';
import { TraceRead } from './trace-read.tsx';
import { NOTHING_TOLD, type Typed, toldFrom, typedFaults } from './trace-told.ts';
import { useTrace } from './use-trace.ts';
import { WalksPart } from './walks-part.tsx';

export function TracePage() {
  useDocumentTitle('Read a current trace · Steadycone');
  const [typed, setTyped] = useState(NOTHING_TOLD);
  const { stage, files, choose, again, changed, view, walks, stop, takeWalk } = useTrace();
  const change = (next: Typed) => {
    setTyped(next);
    changed(next);
  };
  const read = stage.kind === 'read' ? stage : undefined;
  const walk = read?.walk;
  const stairs = useMemo(() => (walk ? walkSteps(walk) : []), [walk]);
  const walksPart = (
    <WalksPart
      name={read?.name}
      logged={read?.opened.head.channels.some((c) => c.quantity === 'voltage') === true}
      setupDocument={files?.setup?.document}
      walk={walk}
      reading={read?.opened.reading}
      planned={read?.planned}
      onRead={walks}
      onStop={stop}
      onWalk={takeWalk}
    />
  );
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
            // Emptied at once: the same files can be chosen again after a stop or once one is corrected.
            event.currentTarget.value = '';
            void choose(chosen, typed);
          }}
        />
      </label>
      <details className="section">
        <summary>What the file does not say by itself: columns, meter, your own readings</summary>
        <h2>The file</h2>
        <FileFields typed={typed} onChange={change} />
        <h2>The meter, and your own readings</h2>
        <MeterFields typed={typed} onChange={change} />
        <ResistorWords typed={typed} />
        {files && (
          <Button variant="default" onClick={() => void again(typed)}>
            Read again with these
          </Button>
        )}
      </details>
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
              {stage.bytes < stage.total
                ? `${stage.name}: ${bytesText(stage.bytes)} of ${bytesText(stage.total)}`
                : `${stage.name}: all is read; its regimes are being named.`}
              {stage.turned && ' The current reads negative: it is read again with its sign turned.'}{' '}
              <Button variant="default" onClick={stop}>
                Stop
              </Button>
            </p>
          </>
        )}
      </div>
      {stage.kind === 'asking' && (
        <PreviewPart
          key={stage.name}
          name={stage.name}
          preview={stage.preview}
          typed={typed}
          onChange={change}
          onRead={() => void again(typed)}
        />
      )}
      {stage.kind === 'waiting' && walksPart}
      {read && (
        <TraceRead key={read.number} name={read.name} opened={read.opened} view={view} stairs={stairs}>
          {walksPart}
        </TraceRead>
      )}
      <TraceAssumptions />
    </>
  );
}

/** What the resistor does to the reading, as soon as its numbers stand; no trace is needed for that. */
function ResistorWords({ typed }: { typed: Typed }) {
  const faults = typedFaults(typed);
  const sentences = faults.length > 0 ? faults : (resistorTold(toldFrom(typed))?.sentences ?? []);
  return (
    <div role="status">
      {sentences.map((line) => (
        <p key={line} className={faults.length > 0 ? 'fault' : undefined}>
          {line}
        </p>
      ))}
    </div>
  );
}
