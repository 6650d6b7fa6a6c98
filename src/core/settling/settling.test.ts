import { describe, expect, it } from 'vitest';
import { BOX, hiddenSource, type Kind, START } from '../../../bench/settle/source.ts';
import { advise } from './advise.ts';
import { OFFSET_SD_MM } from './family.ts';
import {
  AXES,
  type Axis,
  costOf,
  handOver,
  handOverHtml,
  handOverText,
  MOST_RAISE_V,
  nextMove,
  type SettlePoint,
  type SettleReading,
  type SettleSession,
} from './index.ts';
import type { Ledger } from './ledger.ts';
import { AGAINST_TO_DROP } from './ledger.ts';

function made(changes: Partial<SettleSession> = {}): SettleSession {
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

function reading(voltage_V: number, level: number, more: Partial<SettleReading> = {}): SettleReading {
  return { time_s: 0, at: { ...START, voltage_V }, level, scatter_percent: 5, ...more };
}

/** Follows the advice on a hidden source and calls `each` with every decision. */
function followed(
  kind: Kind,
  seed: number,
  session: SettleSession,
  count: number,
  each: (to: SettlePoint, from: SettlePoint) => void = () => {},
): { share: number; ledger: Ledger } {
  const source = hiddenSource(kind, seed);
  let before: Ledger | undefined;
  let [time, from] = [0, session.start];
  for (let n = 0; ; n++) {
    const decision = advise(session, { before, onwards: true });
    before = decision.ledger;
    if (n === count) return { share: source.share(decision.best, time, true), ledger: before };
    each(decision.to, from);
    time += costOf(from, decision.to);
    from = decision.to;
    session.readings.push({ time_s: time, at: decision.to, ...source.read(decision.to, time, true) });
  }
}

describe('settling on an invented source', () => {
  it('comes within 5 % of the best in 26 readings, on each of three seeds', () => {
    // The benchmark finds nine of ten sources of this kind in under 20 readings.
    for (const seed of [11, 12, 13])
      expect(followed('matched', seed, made(), 26).share).toBeGreaterThan(0.95);
  });

  it('fails where the prior of the radius is far too narrow, and finds it where it is wide', () => {
    const onset = { radius_um: 12, surface_tension_mN_m: 36 };
    const shares = [0.03, 0.8].map((sd) => {
      const session = made({ onset: { ...onset, sd_ln_radius: sd } });
      const decision = followed('matched', 21, session, 14);
      return decision.ledger.belief.physics.theta[1]!;
    });
    // The true radius is near 45 µm: u near ln(45/12) = 1.3, some 40 of the narrow standard deviations away.
    expect(Math.abs(shares[0]!)).toBeLessThan(0.5);
    expect(shares[1]!).toBeGreaterThan(0.7);
  });
});

describe('limits', () => {
  it('never leaves the limits, the steps, the supply or a discharge met, and never raises far at once', () => {
    const axes = {
      voltage_V: { low: 900, high: 2400, step: 20 },
      distance_mm: { low: 2, high: 4, step: 0.25 },
      lateral_x_mm: { low: 0, high: 1, step: 0.1 },
    };
    for (const seed of [31, 32]) {
      const session = made({
        axes,
        supply_limit_V: 1950,
        discharge_limit_V: 1930,
        start: { ...START, voltage_V: 1000 },
      });
      let checked = 0;
      followed('hard', seed, session, 20, (to, from) => {
        expect(to.voltage_V).toBeLessThanOrEqual(1930);
        for (const axis of AXES) {
          const spec = (axes as Partial<Record<Axis, { low: number; high: number; step: number }>>)[axis];
          if (spec === undefined) expect(to[axis]).toBe(session.start[axis]);
          else {
            expect(to[axis]).toBeGreaterThanOrEqual(spec.low);
            expect(to[axis]).toBeLessThanOrEqual(spec.high);
            const steps = (to[axis] - session.start[axis]) / spec.step;
            expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-6);
          }
        }
        expect(to.voltage_V - from.voltage_V).toBeLessThanOrEqual(MOST_RAISE_V);
        checked++;
      });
      expect(checked).toBe(20);
    }
  });

  it('goes down after a discharge, without asking, and never comes near it again', () => {
    const session = made();
    session.readings.push(reading(1900, 5e5), reading(2100, 3e4, { time_s: 60, seen: ['discharge'] }));
    const advice = nextMove(session);
    expect(advice.kind).toBe('lower');
    expect(advice.to.voltage_V).toBeLessThanOrEqual(0.9 * 2100);
    expect(advice.asks_for_yes).toBe(false);
    session.readings.push({ ...reading(1880, 6e5), time_s: 90 });
    followedFrom(session, 15, (to) => expect(to.voltage_V).toBeLessThanOrEqual(0.95 * 2100));
  });
});

function followedFrom(session: SettleSession, count: number, each: (to: SettlePoint) => void): void {
  const source = hiddenSource('hard', 5);
  let time = session.readings.at(-1)?.time_s ?? 0;
  for (let n = 0; n < count; n++) {
    const { to } = advise(session, { onwards: true });
    each(to);
    time += 60;
    session.readings.push({ time_s: time, at: to, ...source.read(to, time, true) });
  }
}

describe('advice', () => {
  it('is the same from the same log, with and without what was computed before', () => {
    const session = made();
    const { ledger } = followed('events', 41, session, 12);
    const again = nextMove(structuredClone(session));
    expect(nextMove(session)).toEqual(again);
    expect(nextMove(session, ledger)).toEqual(again);
  });

  it('asks before a raise and before coming closer at the same voltage, not before lowering', () => {
    const only = (axis: Axis) => made({ axes: { [axis]: BOX[axis as keyof typeof BOX] } });
    const up = only('voltage_V');
    up.readings.push(reading(1000, 10), { ...reading(1050, 300), time_s: 30 });
    const raise = nextMove(up);
    expect(raise.to.voltage_V).toBeGreaterThan(1050);
    expect(raise.asks_for_yes).toBe(true);
    expect(raise.question).toBe('Hands clear of the source?');
    expect(raise.sentence).toMatch(/^Raise the voltage by \d+ V to \d+ V/);
    const down = only('voltage_V');
    down.readings.push(reading(2900, 10), { ...reading(2800, 300), time_s: 30 });
    const lower = nextMove(down);
    expect(lower.to.voltage_V).toBeLessThan(2800);
    expect(lower.asks_for_yes).toBe(false);
    expect(lower.question).toBeUndefined();
    const closer = only('distance_mm');
    closer.readings.push(
      { ...reading(1900, 1e4), at: { ...START, distance_mm: 7 } },
      { ...reading(1900, 3e4), at: { ...START, distance_mm: 6 }, time_s: 60 },
    );
    const near = nextMove(closer);
    expect(near.to.distance_mm).toBeLessThan(6);
    expect(near.asks_for_yes).toBe(true);
    expect(near.cautions.join(' ')).toContain('voltage off, read back 0 V');
  });

  it('begins where the session starts, and asks there', () => {
    const first = nextMove(made());
    expect(first.kind).toBe('first reading');
    expect(first.to).toEqual(START);
    expect(first.asks_for_yes).toBe(true);
  });

  it('gives a sane answer when nothing was ever seen', () => {
    const session = made();
    for (let k = 0; k < 4; k++)
      session.readings.push(reading(1900 + 50 * k, 0, { time_s: 30 * k, seen: ['no spray'] }));
    const advice = nextMove(session);
    expect(AXES.every((axis) => Number.isFinite(advice.to[axis]))).toBe(true);
    expect(Number.isFinite(advice.best!.level)).toBe(true);
  });

  it('steadies where the scatter is what matters', () => {
    const session = made({ matters: 'scatter', axes: { voltage_V: BOX.voltage_V } });
    for (const [k, V] of [1300, 1500, 1700, 1900, 2100].entries())
      session.readings.push(reading(V, 1e6, { time_s: 20 * k, scatter_percent: [30, 4, 9, 35, 60][k]! }));
    expect(Math.abs(nextMove(session).best!.at.voltage_V - 1550)).toBeLessThan(150);
  });
});

describe('what is not learned from', () => {
  /** Twelve readings on a source, then the best place known. */
  function settled(): { session: SettleSession; at: SettlePoint } {
    const session = made();
    const { ledger } = followed('matched', 51, session, 14);
    return { session, at: advise(session, { before: ledger }).best };
  }

  it('a bubble: doubted, read again, then known as an event that moves nothing', () => {
    const { session, at } = settled();
    const time = session.readings.at(-1)!.time_s;
    const level = Math.max(...session.readings.map((r) => r.level));
    session.readings.push({ time_s: time + 60, at, level, scatter_percent: 5 });
    const before = nextMove(session).best!.at;
    session.readings.push({ time_s: time + 120, at, level: level / 20, scatter_percent: 20 });
    const doubted = nextMove(session);
    expect(doubted.taken.at(-1)).toBe('doubted');
    expect(doubted.kind).toBe('read again');
    session.readings.push({ time_s: time + 130, at, level: 0.97 * level, scatter_percent: 5 });
    const after = nextMove(session);
    expect(after.taken.at(-2)).toBe('event');
    expect(Math.abs(after.best!.at.voltage_V - before.voltage_V)).toBeLessThan(60);
  });

  it('a clog: low again there and at the best place, so later readings have a level of their own', () => {
    const { session, at } = settled();
    const time = session.readings.at(-1)!.time_s;
    const level = Math.max(...session.readings.map((r) => r.level));
    const elsewhere = { ...at, voltage_V: at.voltage_V - 20 };
    session.readings.push(
      { time_s: time + 60, at, level, scatter_percent: 5 },
      { time_s: time + 120, at: elsewhere, level: level / 8, scatter_percent: 6 },
      { time_s: time + 130, at: elsewhere, level: level / 8, scatter_percent: 6 },
      { time_s: time + 140, at, level: level / 8, scatter_percent: 6 },
    );
    expect(nextMove(session).taken.slice(-3)).toEqual(Array(3).fill('after a change'));
  });

  it('what the person names an event', () => {
    const session = made();
    session.readings.push(reading(1900, 5e5), reading(1900, 1e3, { time_s: 20, event: 'bubble' }));
    expect(nextMove(session).taken).toEqual(['learned', 'event']);
  });
});

describe('the offset prior', () => {
  it('is dropped after six readings that speak against it', () => {
    // A spray that is best 2.4 standard deviations and more off the axis, read along a line towards it.
    const session = made({ axes: { lateral_x_mm: { low: -4, high: 4, step: 0.1 } } });
    const centre = 5 * OFFSET_SD_MM;
    for (let k = 0; k < 14; k++) {
      const x = -0.5 + 0.3 * k;
      const level = 1e6 * Math.exp(-0.5 * ((x - centre) / 0.7) ** 2) + 1e3;
      session.readings.push({ time_s: 60 * k, at: { ...START, lateral_x_mm: x }, level, scatter_percent: 3 });
    }
    const { ledger } = advise(session);
    expect(ledger.againstOffset).toBeGreaterThanOrEqual(AGAINST_TO_DROP);
    expect(nextMove(session).rests_on).not.toBe('physics with the offset prior');
    expect(Math.abs(nextMove(session).best!.at.lateral_x_mm - centre)).toBeLessThan(0.5);
  });
});

describe('the end', () => {
  it('comes after both sides of every axis were read, at the best, with margins of the right size', () => {
    const source = hiddenSource('matched', 71);
    const session = made();
    let before: Ledger | undefined;
    let time = 0;
    let decision = advise(session);
    while (decision.kind !== 'done' && session.readings.length < 70) {
      time += costOf(decision.current, decision.to);
      session.readings.push({ time_s: time, at: decision.to, ...source.read(decision.to, time, true) });
      decision = advise(session, { before });
      before = decision.ledger;
    }
    expect(decision.kind).toBe('done');
    const { best } = decision;
    expect(source.share(best, time, true)).toBeGreaterThan(0.95);
    for (const axis of ['voltage_V', 'distance_mm', 'lateral_x_mm', 'lateral_y_mm'] as const)
      for (const sign of [-1, 1])
        expect(session.readings.some(({ at }) => sign * (at[axis] - best[axis]) > 0)).toBe(true);
    const volts = nextMove(session).best!.margins.find(({ axis }) => axis === 'voltage_V')!;
    // From the true top a tenth is lost 0.1 √(2 ln(1/0.9)) = 0.046 away in V/V_on of 1.17: 3.9 % of the voltage; the point stands up to 3 % off it.
    const expected = 0.039 * best.voltage_V;
    for (const by of [volts.down, volts.up]) {
      expect(by).toBeGreaterThan(0.2 * expected);
      expect(by).toBeLessThan(2.5 * expected);
    }
  });
});

describe('where the physics mean does not fit', () => {
  it('falls back on the readings', () => {
    // Best at 1500 and again, higher, at 2000 V: no single ridge.
    const session = made({ axes: { voltage_V: BOX.voltage_V } });
    const levelAt = (V: number) =>
      4e5 * Math.exp(-0.5 * ((V - 1450) / 70) ** 2) + 1e6 * Math.exp(-0.5 * ((V - 2050) / 70) ** 2);
    for (let k = 0; k < 26; k++) {
      const V = 1200 + 40 * k;
      session.readings.push(reading(V, 1e3 + levelAt(V), { time_s: 20 * k, scatter_percent: 3 }));
    }
    const advice = nextMove(session);
    expect(advice.rests_on).toBe('readings alone');
    expect(Math.abs(advice.best!.at.voltage_V - 2050)).toBeLessThan(40);
  });
});

describe('the hand-over', () => {
  it('states point, margins and cautions, and escapes what a person wrote', () => {
    const session = made({ name: 'Kettle <bench>' });
    followed('matched', 61, session, 14);
    session.readings[3]!.note = 'second <i>screw</i> is loose';
    const over = handOver(session);
    expect(over.advice.best!.margins).toHaveLength(4);
    for (const { down, up } of over.advice.best!.margins)
      expect(Math.min(down, up)).toBeGreaterThanOrEqual(0);
    const text = handOverText(session, over);
    expect(text).toContain('Working point');
    expect(text).toContain('Read back 0 V.');
    const html = handOverHtml(session, over);
    expect(html).not.toContain('<i>screw');
    expect(html).toContain('Kettle &lt;bench&gt;');
  });

  it('gives calibration rows only for regimes that were named or steady', () => {
    const session = made();
    session.readings.push(
      reading(1500, 1e3, { seen: ['dripping'] }),
      reading(1700, 1e6, { time_s: 30, current_nA: 160 }),
      reading(1800, 1e6, { time_s: 60, scatter_percent: 35 }),
      reading(2000, 4e5, { time_s: 90, seen: ['tilted', 'unstable'] }),
    );
    expect(handOver(session).observations).toEqual([
      { supply_V: 1500, seen: 'dripping' },
      { supply_V: 1700, seen: 'steady', direction: 'up', current_nA: 160 },
      { supply_V: 2000, seen: 'tilted', direction: 'up' },
    ]);
  });
});
