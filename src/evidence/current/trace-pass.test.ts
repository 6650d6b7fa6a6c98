import { describe, expect, it } from 'vitest';
import type { TraceHead } from '../../formats/trace/index.ts';
import { tracePass } from './trace-pass.ts';

const RATE_HZ = 1000;
const SAMPLES = 60_000;

function windowOf(options: { window_s?: number; longest_s?: number }): number {
  const head: TraceHead = {
    kind: 'table',
    rate_Hz: RATE_HZ,
    rate_from: 'given',
    start_s: 0,
    channels: [{ quantity: 'current', name: 'current_nA', unit: 'nA', scale: 1e-9 }],
    invented: true,
    notes: [],
  };
  const pass = tracePass({ bytes: 18 * SAMPLES, sign: 1, ...options });
  pass.sink.head(head);
  const current = Float64Array.from({ length: SAMPLES }, (_, k) => 1e-7 + 1e-9 * Math.sin(k));
  pass.sink.block({ first: 0, count: SAMPLES, start_s: 0, gap_s: 0, current });
  return pass.end().statistics.window_s;
}

describe('the windows of a pass', () => {
  const chosen = windowOf({});
  it('are chosen for rate and length, or as they are told', () => {
    expect(chosen).toBeGreaterThan(0.2);
    expect(windowOf({ window_s: 20 })).toBe(20);
  });

  it('are shorter where the steps of a walk ask for it, never longer', () => {
    expect(windowOf({ longest_s: chosen / 2 })).toBe(chosen / 2);
    expect(windowOf({ longest_s: 10 * chosen })).toBe(chosen);
  });

  it('hold some samples, however short the steps', () => {
    expect(windowOf({ longest_s: 0.001 })).toBeGreaterThan(0.01);
  });
});
