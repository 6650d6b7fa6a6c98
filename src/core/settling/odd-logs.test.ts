import { describe, expect, it } from 'vitest';
import { BOX, START } from '../../../bench/settle/source.ts';
import {
  type Advice,
  AXES,
  handOver,
  handOverText,
  nextMove,
  observationsYaml,
  type SettleReading,
  type SettleSession,
} from './index.ts';

function made(changes: Partial<SettleSession>): SettleSession {
  return {
    seed: 1,
    polarity: 'positive',
    start: START,
    axes: { ...BOX },
    reads: 'typed',
    matters: 'level',
    supply_limit_V: 5000,
    readings: [],
    ...changes,
  };
}

function sane(session: SettleSession): Advice {
  const advice = nextMove(session);
  for (const axis of AXES) expect(Number.isFinite(advice.to[axis])).toBe(true);
  expect(advice.sentence).not.toMatch(/NaN|Infinity|undefined/);
  expect(advice.reason).not.toMatch(/NaN|Infinity|undefined/);
  expect(advice.taken).toHaveLength(session.readings.length);
  const { best } = advice;
  if (best !== undefined) {
    expect(best.chance_within_5_percent).toBeGreaterThanOrEqual(0);
    expect(best.chance_within_5_percent).toBeLessThanOrEqual(1);
    expect(Number.isFinite(best.level)).toBe(true);
  }
  expect(handOverText(session)).not.toMatch(/NaN|Infinity|undefined/);
  return advice;
}

/** Follows the advice with readings of one kind. */
function followed(session: SettleSession, count: number, of: (k: number) => Partial<SettleReading>): void {
  for (let k = 0; k < count; k++) {
    const { to } = nextMove(session);
    session.readings.push({ time_s: 30 * k, at: to, level: 0, ...of(k) });
  }
}

describe('odd logs', () => {
  it.each(['level', 'scatter', 'both'] as const)('gives advice where every reading is 0, %s', (matters) => {
    const session = made({ matters });
    followed(session, 14, () => ({}));
    const advice = sane(session);
    expect(advice.taken).not.toContain('event');
    expect(handOver(session).observations).toEqual([]);
    expect(observationsYaml([])).toContain('nothing to calibrate by');
  });

  it('gives advice where one reading is 1e30 and another 1e-300', () => {
    const session = made({});
    followed(session, 10, (k) => ({ level: [1e30, 1e-300, 5, 1e30, 0][k % 5]!, scatter_percent: 1000 }));
    sane(session);
  });

  it('goes down, never up, where discharges leave no step inside the limits', () => {
    const session = made({ axes: { voltage_V: { low: 1800, high: 2400, step: 50 } } });
    for (const voltage_V of [1900, 1800, 1710])
      session.readings.push({
        time_s: session.readings.length,
        at: { ...START, voltage_V },
        level: 1,
        seen: ['discharge'],
      });
    const advice = sane(session);
    expect(advice.kind).toBe('lower');
    expect(advice.to.voltage_V).toBeLessThan(1710);
    expect(advice.asks_for_yes).toBe(false);
  });

  it('gives advice where every reading is an event, or all stand at one time and place', () => {
    const events = made({});
    followed(events, 10, () => ({ level: 3, event: 'other' }));
    expect(sane(events).taken.every((taken) => taken === 'event')).toBe(true);
    const same = made({ readings: Array.from({ length: 12 }, () => ({ time_s: 0, at: START, level: 4 })) });
    sane(same);
  });

  it('gives advice where the only axis has one step', () => {
    const session = made({ axes: { voltage_V: { low: 1900, high: 1950, step: 50 } } });
    followed(session, 12, (k) => ({ level: 1 + (k % 2) / 50, scatter_percent: 5 }));
    sane(session);
  });
});
