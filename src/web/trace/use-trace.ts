/** The trace behind the page: from chosen files over what is open to what was read; one worker, the latest files only. */
import { proxy, type Remote, wrap } from 'comlink';
import { useCallback, useEffect, useRef, useState } from 'react';
import { faultLine } from '../../core/errors.ts';
import type { CurrentReading, VoltageWalk } from '../../evidence/current/index.ts';
import type { TracePreview } from '../../formats/trace/index.ts';
import type { TraceView } from './sample-store.ts';
import { openQuestions, type TraceFiles, traceFiles } from './trace-files.ts';
import { optionsFrom, type Typed, toldFrom, typedFaults } from './trace-told.ts';
import type { TraceOpened, TraceWork, WalksAnswer, WalksOpened, WalksTyped } from './trace-worker.ts';

export type Stage =
  | { kind: 'waiting'; said: string[] }
  | { kind: 'asking'; name: string; preview: TracePreview }
  | { kind: 'reading'; name: string; bytes: number; total: number }
  | { kind: 'read'; name: string; number: number; opened: TraceOpened; walk: VoltageWalk | undefined };

export interface TraceDesk {
  stage: Stage;
  files: TraceFiles | undefined;
  choose: (chosen: readonly File[], typed: Typed) => Promise<void>;
  /** Reads the chosen files with what is typed now. */
  again: (typed: Typed) => Promise<void>;
  /** What is typed has changed: while the page asks, its questions follow. */
  changed: (typed: Typed) => Promise<void>;
  view: (from: number, to: number, columns: number) => Promise<TraceView | undefined>;
  walks: (typed: WalksTyped) => Promise<WalksAnswer>;
  takeWalk: (reading: CurrentReading, walks: WalksOpened) => void;
  stop: () => void;
}

export function useTrace(): TraceDesk {
  const [stage, setStage] = useState<Stage>({ kind: 'waiting', said: [] });
  const [files, setFiles] = useState<TraceFiles>();
  const work = useRef<Remote<TraceWork>>(null);
  const readings = useRef(0);
  const latest = useRef<TraceFiles>(undefined);
  useEffect(() => {
    const worker = new Worker(new URL('./trace-worker.ts', import.meta.url), { type: 'module' });
    work.current = wrap<TraceWork>(worker);
    return () => worker.terminate();
  }, []);
  const view = useCallback(
    async (from: number, to: number, columns: number) => work.current?.view(from, to, columns),
    [],
  );
  const read = async (chosen: TraceFiles, typed: Typed) => {
    const { trace, sidecar, setup } = chosen;
    latest.current = chosen;
    const faults = typedFaults(typed);
    if (faults.length > 0 || !work.current) return setStage({ kind: 'waiting', said: faults });
    const options = optionsFrom(typed);
    const preview = await openQuestions(chosen, options);
    if (preview.questions.length > 0) return setStage({ kind: 'asking', name: trace.name, preview });
    setStage({ kind: 'reading', name: trace.name, bytes: 0, total: trace.size });
    const progress = proxy((bytes: number) =>
      setStage((now) => (now.kind === 'reading' ? { ...now, bytes } : now)),
    );
    const task = { file: trace, sidecar, options, told: toldFrom(typed), setup: setup?.setup };
    const answer = await work.current.open(task, progress);
    if (chosen !== latest.current) return;
    if ('head' in answer) {
      readings.current++;
      setStage({ kind: 'read', name: trace.name, number: readings.current, opened: answer, walk: undefined });
    } else if ('faults' in answer) setStage({ kind: 'waiting', said: answer.faults.map(faultLine) });
    else if ('stopped' in answer) setStage({ kind: 'waiting', said: ['Stopped. Nothing was kept.'] });
    else setStage({ kind: 'waiting', said: [`Not read: ${answer.trouble}`] });
  };
  return {
    stage,
    files,
    choose: async (chosen, typed) => {
      try {
        const found = await traceFiles(chosen);
        setFiles(found);
        if (found) await read(found, typed);
        else if (chosen.length > 0)
          setStage({
            kind: 'waiting',
            said: ['No trace among these files: choose the samples together with their sidecar or set-up.'],
          });
      } catch (trouble) {
        setFiles(undefined);
        const said = trouble instanceof Error ? trouble.message : String(trouble);
        setStage({ kind: 'waiting', said: said.split('\n') });
      }
    },
    again: async (typed) => {
      if (files) await read(files, typed);
    },
    changed: async (typed) => {
      if (stage.kind !== 'asking' || !files) return;
      const preview = await openQuestions(files, optionsFrom(typed));
      setStage((now) => (now.kind === 'asking' ? { ...now, preview } : now));
    },
    view,
    walks: async (typed) =>
      work.current?.walks(
        typed,
        files?.setup?.setup,
        proxy(() => undefined),
      ) ?? { stopped: true },
    takeWalk: (reading, { walk }) =>
      setStage((now) => (now.kind === 'read' ? { ...now, opened: { ...now.opened, reading }, walk } : now)),
    stop: () => void work.current?.stop(),
  };
}
