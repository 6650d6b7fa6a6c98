import { describe, expect, it } from 'vitest';
import { madeRun } from '../../../test/kit/made-queue.ts';
import { randomStream } from '../../core/random.ts';
import { recurringEvents } from './recurring.ts';
import type { RunSummary } from './run-summary.ts';

function run(times_s: readonly number[]): RunSummary {
  return madeRun({
    events: times_s.map((at) => ({
      kind: 'dropout',
      start_s: at - 3,
      end_s: at + 3,
      depth: 0.8,
      confidence: 0.7,
    })),
  });
}

function queue(seed: number, files: number, own: number, shared: readonly number[]): RunSummary[] {
  const draw = randomStream(seed, 'events');
  return Array.from({ length: files }, () =>
    run([
      ...Array.from({ length: own }, () => draw.between(0, 3600)),
      ...shared.map((at) => at + draw.between(-4, 4)),
    ]),
  );
}

describe('events that come back', () => {
  it('finds the two shared times among random ones, in the right files', () => {
    const found = recurringEvents(queue(1, 12, 3, [1380, 2400]));
    expect(found.recurring.map((time) => Math.round(time.time_s / 30))).toEqual([46, 80]);
    for (const time of found.recurring) expect(time.files).toHaveLength(12);
    // A random event may fall into a shared window; 12 x 3 random ones at 2 x 20 s of 3600 s: fewer than three.
    expect(found.random_events).toBeGreaterThan(33);
    expect(found.sentence).toMatch(/At (22\.9|23\.0|23\.1) min \(12 of 12 files\), /);
  });

  it('tells nothing of queues whose events are random: at most two of fifty', () => {
    let told = 0;
    for (let seed = 1; seed <= 50; seed++)
      if (recurringEvents(queue(seed, 10, 25, [])).recurring.length > 0) told++;
    expect(told).toBeLessThanOrEqual(2);
  });

  it('needs three files, and leaves out what is hardly believed', () => {
    expect(recurringEvents(queue(1, 2, 0, [600])).sentence).toContain('too few');
    const doubtful = queue(1, 8, 0, [600]).map((one) => ({
      ...one,
      events: one.events.map((event) => ({ ...event, confidence: 0.1 })),
    }));
    expect(recurringEvents(doubtful).sentence).toBe('No dropout or sag in any file.');
    expect(recurringEvents([null, null]).sentence).toBe('No dropout or sag in any file.');
  });
});
