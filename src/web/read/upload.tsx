import { Button, TextInput } from '@mantine/core';
import { useEffect, useId, useRef, useState } from 'react';
import { type KeptRun, keepRun, keepSetup } from '../api.ts';
import { saidBy } from '../said-by.ts';
import { WhoField } from '../who-field.tsx';
import { bytesText } from '../words.ts';
import { type ChosenSetup, SetupOfRun } from './setup-of-run.tsx';

type Stage =
  | { kind: 'waiting'; said?: string; fault?: boolean }
  | { kind: 'sending'; name: string; sent: number; total: number; stop: AbortController };

/** Choose or drop a run; its bytes go up while progress shows, and may be stopped at any moment. */
export function Upload({ onKept }: { onKept: (kept: KeptRun) => void }) {
  const [stage, setStage] = useState<Stage>({ kind: 'waiting' });
  const [isOver, setOver] = useState(false);
  const [who, setWho] = useState('');
  const [mask, setMask] = useState('');
  const [chosen, setChosen] = useState<ChosenSetup>(() => ({
    kind: 'bench',
    id: new URLSearchParams(location.search).get('setup') ?? '',
  }));
  const input = useId();
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);

  const start = async (file: File) => {
    if (running.current) return;
    const stop = new AbortController();
    running.current = stop;
    const show = (sent: number, total: number) =>
      setStage({ kind: 'sending', name: file.name, sent, total, stop });
    show(0, file.size);
    try {
      const setup_id =
        chosen.kind === 'file' ? (await keepSetup(chosen.document, who.trim())).setup_id : chosen.id;
      const asked = { who: who.trim(), setup: setup_id, mask: mask.trim() };
      onKept(await keepRun(file, asked, { onSent: show, signal: stop.signal }));
    } catch (trouble) {
      const cancelled = trouble instanceof DOMException && trouble.name === 'AbortError';
      const said = cancelled ? 'Cancelled. Nothing was kept.' : `Not read: ${saidBy(trouble)}`;
      setStage({ kind: 'waiting', said, fault: !cancelled });
    } finally {
      running.current = null;
    }
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is an extra way; the file control inside does the same by keyboard
    <div
      className="drop"
      data-over={isOver}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        const file = event.dataTransfer.files[0];
        if (file) void start(file);
      }}
    >
      {stage.kind === 'waiting' && (
        <>
          <SetupOfRun chosen={chosen} onChosen={setChosen} />
          <TextInput
            label="Minutes to leave out (optional)"
            placeholder="0-3,55-60"
            maw={320}
            mb="md"
            value={mask}
            onChange={(event) => setMask(event.currentTarget.value)}
          />
          <label htmlFor={input} style={{ fontWeight: 600, display: 'block' }}>
            Choose a run file, or drop it anywhere in this frame
          </label>
          <input
            id={input}
            type="file"
            accept=".mzML,.mzml,.mzXML,.mzxml,.gz"
            onChange={(event) => {
              const file = event.currentTarget.files?.[0];
              if (file) void start(file);
            }}
          />
          <WhoField mt="sm" maw={320} value={who} onChange={setWho} />
        </>
      )}
      {stage.kind === 'sending' && <Sending stage={stage} />}
      <p
        role="status"
        className={stage.kind === 'waiting' && stage.fault ? 'fault' : undefined}
        style={{ margin: '0.8rem 0 0' }}
      >
        {stage.kind === 'waiting' ? stage.said : ''}
      </p>
    </div>
  );
}

function Sending({ stage }: { stage: Extract<Stage, { kind: 'sending' }> }) {
  const label = useId();
  const allSent = stage.sent >= stage.total;
  return (
    <>
      <p id={label} style={{ fontWeight: 600 }}>
        {allSent ? 'The whole file has arrived and is being read' : `Sending ${stage.name}`}
      </p>
      <progress aria-labelledby={label} max={Math.max(1, stage.total)} value={stage.sent} />
      <p data-progress>
        {bytesText(stage.sent)} of {bytesText(stage.total)}
      </p>
      <Button variant="default" onClick={() => stage.stop.abort()}>
        Cancel
      </Button>
    </>
  );
}
