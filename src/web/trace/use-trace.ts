/** The trace behind the page: from chosen files over what is open to what was read; one worker, the latest turn only. */
import { proxy, type Remote, wrap } from 'comlink';
import { useCallback, useEffect, useRef, useState } from 'react';
import type { PlannedWindow, VoltageWalk } from '../../evidence/current/index.ts';
import type { TracePreview } from '../../formats/trace/index.ts';
import { saidBy } from '../said-by.ts';
import { refusedLines } from './refused.ts';
import type { TraceView } from './sample-store.ts';
import { openQuestions, type TraceFiles, traceFiles } from './trace-files.ts';
import { optionsFrom, type Typed, toldFrom, typedFaults } from './trace-told.ts';
import type { TraceOpened, TraceWork, WalksAnswer, WalksOpened, WalksTyped } from './trace-worker.ts';

export interface TraceReadStage {
  kind: 'read';
  name: string;
  /** Another for each reading, also of the same file. */
  number: number;
  opened: TraceOpened;
  /** A voltage walk that was read on it, and the planned window beside it. */
  walk: VoltageWalk | undefined;
  planned: PlannedWindow | undefined;
}

export type Stage =
  | { kind: 'waiting'; said: string[] }
  | { kind: 'asking'; name: string; preview: TracePreview }
  | { kind: 'reading'; name: string; bytes: number; total: number; turned: boolean }
  | TraceReadStage;

export interface TraceDesk {
  stage: Stage;
  files: TraceFiles | undefined;
  choose: (chosen: readonly File[], typed: Typed) => Promise<void>;
  /** Reads the chosen files with what is typed now. */
  again: (typed: Typed) => Promise<void>;
  /** What is typed has changed: while the page asks, its questions follow. */
  changed: (typed: Typed) => void;
  view: (from: number, to: number, columns: number) => Promise<TraceView | undefined>;
  walks: (typed: WalksTyped, onProgress: (share: number) => void) => Promise<WalksAnswer>;
  takeWalk: (walks: WalksOpened) => void;
  stop: () => void;
}

export function useTrace(): TraceDesk {
  const [stage, setStage] = useState<Stage>({ kind: 'waiting', said: [] });
  const [files, setFiles] = useState<TraceFiles>();
  const work = useRef<Remote<TraceWork>>(null);
  /** Counts what was asked: an answer to an earlier turn is not taken. */
  const turn = useRef(0);
  useEffect(() => {
    const worker = new Worker(new URL('./trace-worker.ts', import.meta.url), { type: 'module' });
    work.current = wrap<TraceWork>(worker);
    return () => worker.terminate();
  }, []);
  const view = useCallback(
    async (from: number, to: number, columns: number) => work.current?.view(from, to, columns),
    [],
  );
  const stop = () => void work.current?.stop();
  /** What is still being read is no longer wanted, whatever comes of the new turn. */
  const begin = () => {
    stop();
    return ++turn.current;
  };
  const read = async (chosen: TraceFiles, typed: Typed, own: number) => {
    const { trace, sidecar, setup } = chosen;
    const faults = typedFaults(typed);
    if (faults.length > 0 || !work.current) return setStage({ kind: 'waiting', said: faults });
    const options = optionsFrom(typed);
    const preview = openQuestions(chosen, options);
    if (preview.questions.length > 0) return setStage({ kind: 'asking', name: trace.name, preview });
    setStage({ kind: 'reading', name: trace.name, bytes: 0, total: trace.size, turned: false });
    const progress = proxy((bytes: number, sign: 1 | -1) => {
      if (own === turn.current)
        setStage((now) => (now.kind === 'reading' ? { ...now, bytes, turned: sign < 0 } : now));
    });
    const task = { file: trace, sidecar, options, told: toldFrom(typed), setup: setup?.setup };
    const answer = await work.current.open(task, progress);
    if (own !== turn.current) return;
    if ('head' in answer)
      setStage({
        kind: 'read',
        name: trace.name,
        number: own,
        opened: answer,
        walk: undefined,
        planned: undefined,
      });
    else setStage({ kind: 'waiting', said: refusedLines(answer) });
  };
  return {
    stage,
    files,
    choose: async (chosen, typed) => {
      if (chosen.length === 0) return setFiles(undefined);
      const own = begin();
      try {
        const found = await traceFiles(chosen);
        if (own !== turn.current) return;
        setFiles(found);
        if (found) await read(found, typed, own);
        else
          setStage({
            kind: 'waiting',
            said: ['No trace among these files: choose the samples together with their sidecar or set-up.'],
          });
      } catch (trouble) {
        if (own !== turn.current) return;
        setFiles(undefined);
        setStage({ kind: 'waiting', said: saidBy(trouble).split('\n') });
      }
    },
    again: async (typed) => {
      if (files) await read(files, typed, begin());
    },
    changed: (typed) => {
      if (stage.kind !== 'asking' || !files) return;
      const preview = openQuestions(files, optionsFrom(typed));
      setStage((now) => (now.kind === 'asking' ? { ...now, preview } : now));
    },
    view,
    walks: async (typed, onProgress) =>
      work.current?.walks(typed, files?.setup?.setup, proxy(onProgress)) ?? { stopped: true },
    takeWalk: ({ reading, walk, planned }) => {
      if (reading === undefined) return;
      setStage((now) =>
        now.kind === 'read' ? { ...now, opened: { ...now.opened, reading }, walk, planned } : now,
      );
    },
    stop,
  };
}
