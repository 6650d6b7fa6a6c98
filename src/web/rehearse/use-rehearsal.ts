/**
 * Runs the rehearsed bench beside the screen: one question to the worker at a time, each for the time that has passed since the
 * last. A machine that cannot keep up lets the bench run slower than the clock; nothing is skipped. Stops while the page is hidden.
 */
import { type Remote, wrap } from 'comlink';
import { useCallback, useEffect, useRef, useState } from 'react';
import { type BenchControls, type MeterName, TICK_S } from '../../rehearsal/index.ts';
import { benchMemory, type Memory } from './memory.ts';
import type { BenchStart, RehearseDesk } from './rehearse-worker.ts';

export interface Rehearsal {
  /** Undefined while the hidden emitter is being solved. */
  start: BenchStart | undefined;
  trouble: string | undefined;
  memory: Memory;
  controls: BenchControls;
  turn: (change: Partial<BenchControls>) => void;
  desk: () => Remote<RehearseDesk> | null;
  running: boolean;
  setRunning: (running: boolean) => void;
  /** Called after each piece of time, before the next paint. */
  onFrame: (draw: () => void) => () => void;
}

export const STARTING_CONTROLS: BenchControls = {
  voltage_V: 600,
  flow_nL_min: 300,
  distance_mm: 3,
  offset_mm: 0,
  high_voltage: true,
};

/** Longest piece of bench time in one question [s]: what the worker does meanwhile must not be seen as a halt. */
const LONGEST_S = 0.05;

export function useRehearsal(seed: number, fault: string, meter: MeterName): Rehearsal {
  const [start, setStart] = useState<BenchStart>();
  const [trouble, setTrouble] = useState<string>();
  const [controls, setControls] = useState(STARTING_CONTROLS);
  const [running, setRunning] = useState(true);
  const now = useRef({ controls, running });
  const memory = useRef(benchMemory());
  const draws = useRef(new Set<() => void>());
  const worker = useRef<Remote<RehearseDesk> | null>(null);
  now.current.running = running;

  useEffect(() => {
    let live = true;
    const thread = new Worker(new URL('./rehearse-worker.ts', import.meta.url), { type: 'module' });
    const desk = wrap<RehearseDesk>(thread);
    worker.current = desk;
    memory.current = benchMemory();
    now.current.controls = STARTING_CONTROLS;
    setControls(STARTING_CONTROLS);
    setStart(undefined);
    setTrouble(undefined);
    const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    let before = 0;
    let owed = 0;
    let asked = false;
    const loop = (time: number) => {
      if (!live) return;
      requestAnimationFrame(loop);
      const passed = before === 0 ? 0 : (time - before) / 1000;
      before = time;
      if (!now.current.running) return;
      owed = Math.min(LONGEST_S, owed + passed);
      const ticks = Math.floor(owed / TICK_S);
      if (asked || ticks === 0) return;
      owed -= ticks * TICK_S;
      asked = true;
      const at = now.current.controls;
      desk
        .advance(at, ticks, still ? STILL_PHASE : undefined)
        .then((frame) => {
          asked = false;
          if (!live || !frame) return;
          memory.current.add(frame, at);
          for (const draw of draws.current) draw();
        })
        .catch((error: unknown) => live && setTrouble(String(error)));
    };
    desk
      .begin(seed, fault, meter)
      .then((fresh) => {
        if (!live) return;
        setStart(fresh);
        requestAnimationFrame(loop);
      })
      .catch((error: unknown) => live && setTrouble(String(error)));
    return () => {
      live = false;
      thread.terminate();
      worker.current = null;
    };
  }, [seed, fault, meter]);

  const turn = useCallback((change: Partial<BenchControls>) => {
    now.current.controls = { ...now.current.controls, ...change };
    setControls(now.current.controls);
  }, []);
  const onFrame = useCallback((draw: () => void) => {
    draws.current.add(draw);
    return () => {
      draws.current.delete(draw);
    };
  }, []);
  return {
    start,
    trouble,
    memory: memory.current,
    controls,
    turn,
    desk: () => worker.current,
    running,
    setRunning,
    onFrame,
  };
}

/** Of the slowed pulsation where motion is unwanted: high on the family. */
const STILL_PHASE = 0.55;
