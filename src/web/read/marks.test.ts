import { describe, expect, it } from 'vitest';
import type { RunEvent, RunReading } from '../../evidence/run-reading.ts';
import { eventMarks, trustMarks } from './marks.ts';

const event = (start_s: number, end_s: number, group = 0): RunEvent => ({
  kind: 'dropout',
  group,
  start_s,
  end_s,
  depth: 0.9,
  confidence: 0.8,
  confidence_basis: 'x',
  sentence: 'x',
});
const reading = {
  main_group: 0,
  events: [event(100, 110), event(111, 112), event(900, 905), event(10, 20, 1)],
  trustworthy: [
    { start_s: 0, end_s: 90 },
    { start_s: 115, end_s: 1000 },
  ],
} as unknown as RunReading;

describe('marks', () => {
  it('numbers events of the group and drops labels that would collide', () => {
    const marks = eventMarks(reading, 0, { from: 0, to: 1000 }, 1000);
    expect(marks.map((m) => m.label)).toEqual(['1 dropout', undefined, '3 dropout']);
    expect(marks[0]?.x1).toBe(100);
  });
  it('keeps the number when zoomed, and shows only what the span touches', () => {
    const marks = eventMarks(reading, 0, { from: 890, to: 910 }, 400);
    expect(marks.map((m) => m.label)).toEqual(['3 dropout']);
  });
  it('draws trust for the group that carries the verdict', () => {
    const marks = trustMarks(reading, 0, { from: 0, to: 1000 }, 1000);
    expect(marks[1]?.label).toBe('trust 1.92 to 16.67 min');
    expect(trustMarks(reading, 1, { from: 0, to: 1000 }, 1000)).toEqual([]);
  });
});
