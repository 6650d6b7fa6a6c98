import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { jsonFault, type MadeScan, madeRecord } from '../../test/kit/made-record.ts';
import { randomStream } from '../core/random.ts';
import { inventedRunTruth } from '../rehearsal/index.ts';
import { readRun } from './read-run.ts';
import type { RunReading } from './run-reading.ts';

function steady(n: number, sd = 0.05, shape: (time_s: number) => number = () => 1, step_s = 1.5): MadeScan[] {
  const stream = randomStream(21, 'reading test');
  return Array.from({ length: n }, (_, i) => {
    const time_s = i * step_s;
    return { time_s, tic: 1e7 * shape(time_s) * stream.factor(sd) };
  });
}

/** A scan's own time on both sides, and one scan more. */
const EDGE_S = 3;

function kinds(reading: RunReading): string[] {
  return reading.events.map((event) => event.kind);
}

describe('what is found', () => {
  test('a steady level: kept whole, no event, its scatter told', () => {
    const reading = readRun(madeRecord(steady(400)));
    expect(reading.events).toEqual([]);
    expect(reading.verdict.grade).toBe('keep');
    expect(reading.trustworthy).toEqual([{ start_s: 0, end_s: 399 * 1.5 }]);
    expect(reading.trustworthy_share).toBe(1);
    // Three standard errors of a scaled MAD of 400 samples, doubled for correlated neighbours.
    expect(Math.abs(reading.groups[0]!.scan_scatter! / 0.05 - 1)).toBeLessThan(0.35);
    expect(Math.abs(reading.groups[0]!.scatter! / 0.05 - 1)).toBeLessThan(0.35);
  });

  test('dropouts: start, length and depth, and the minutes around them', () => {
    const gone = (t: number): boolean => (t >= 150 && t < 156) || (t >= 400 && t < 420);
    const reading = readRun(madeRecord(steady(400, 0.05, (t) => (gone(t) ? 0.05 : 1))));
    expect(kinds(reading)).toEqual(['dropout', 'dropout']);
    const [first, second] = reading.events;
    expect(Math.abs(first!.start_s - 150)).toBeLessThan(EDGE_S);
    expect(Math.abs(second!.end_s - 420)).toBeLessThan(EDGE_S);
    for (const event of reading.events) {
      expect(Math.abs(event.depth! - 0.95)).toBeLessThan(0.02);
      expect(event.confidence).toBeGreaterThan(0.6);
      for (const piece of reading.trustworthy) {
        expect(piece.end_s < event.start_s || piece.start_s > event.end_s).toBe(true);
      }
    }
    expect(reading.verdict.grade).toBe('keep these minutes');
  });

  test('a sag for a minute', () => {
    const reading = readRun(madeRecord(steady(500, 0.05, (t) => (t >= 300 && t < 370 ? 0.65 : 1))));
    expect(kinds(reading)).toEqual(['sag']);
    expect(Math.abs(reading.events[0]!.depth! - 0.35)).toBeLessThan(0.05);
    expect(Math.abs(reading.events[0]!.start_s - 300)).toBeLessThan(EDGE_S);
    expect(reading.undecided.some((point) => point.includes('chromatography'))).toBe(true);
  });

  test('elution alone, thin or dense, is no event and no reason to repeat', () => {
    for (const peaks of [20, 60, 150]) {
      for (let seed = 1; seed <= 8; seed++) {
        const reading = readRun(recordOfTruth({ seed, peaks, faults: 'none' }));
        expect(reading.events).toEqual([]);
        expect(reading.verdict.grade).toBe('keep');
      }
    }
  });

  test('every fault planted in invented runs is found, and nothing else', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const truth = inventedRunTruth({ seed });
      const reading = readRun(recordOfTruth({ seed }));
      expect(kinds(reading)).toEqual(truth.faults.map((fault) => fault.kind));
      truth.faults.forEach((fault, i) => {
        const event = reading.events[i]!;
        expect(Math.abs(event.start_s - fault.start_s)).toBeLessThan(EDGE_S);
        expect(Math.abs(event.end_s - fault.end_s)).toBeLessThan(EDGE_S);
        // Six scans of 5 % beside a dropout, and elution that goes on in it.
        expect(Math.abs(event.depth! - fault.depth)).toBeLessThan(0.04);
      });
    }
  });

  test('scans in turn are parted by polarity; a dip in one that the other does not share is doubted', () => {
    const both = steady(800, 0.05, (t) => (t >= 600 && t < 612 ? 0.05 : 1)).map((scan, i) => ({
      ...scan,
      polarity: i % 2 === 0 ? 1 : -1,
      tic: scan.tic! * (i % 2 === 0 ? 1 : 0.01),
    }));
    const shared = readRun(madeRecord(both));
    expect(shared.groups.map((group) => group.polarity)).toEqual(['positive', 'negative']);
    expect(shared.groups.map((group) => group.ms1_count)).toEqual([400, 400]);
    expect(kinds(shared)).toEqual(['dropout', 'dropout']);
    const alone = readRun(madeRecord(both.map((scan) => (scan.polarity > 0 ? scan : { ...scan, tic: 1e5 }))));
    expect(kinds(alone)).toEqual(['dropout']);
    expect(alone.events[0]!.confidence).toBeLessThan(shared.events[0]!.confidence - 0.2);
  });

  test('few windows part the scans, one window for each scan does not', () => {
    const windows = [400, 600, 800];
    const few = steady(300).map((scan, i) => ({
      ...scan,
      low: windows[i % 3]!,
      high: windows[i % 3]! + 100,
    }));
    expect(readRun(madeRecord(few)).groups.map((group) => group.label)).toEqual([
      'positive, m/z 400–500',
      'positive, m/z 600–700',
      'positive, m/z 800–900',
    ]);
    const many = readRun(
      madeRecord(steady(300).map((scan, i) => ({ ...scan, low: 400 + i, high: 1500 + i }))),
    );
    expect(many.groups.map((group) => group.label)).toEqual(['positive']);
    expect(many.warnings.join()).toContain('300 different scan windows');
  });

  test('a pause of the acquisition is a gap, not a loss, and does not count against the share', () => {
    const scans = steady(400).filter((scan) => scan.time_s < 200 || scan.time_s > 260);
    const reading = readRun(madeRecord(scans));
    expect(kinds(reading)).toEqual(['acquisition gap']);
    expect(reading.events[0]!.depth).toBeNull();
    expect(Math.abs(reading.events[0]!.end_s - reading.events[0]!.start_s - 60)).toBeLessThan(EDGE_S);
    expect(reading.trustworthy_share).toBe(1);
    expect(reading.trustworthy).toHaveLength(2);
    expect(reading.verdict.grade).toBe('keep');
  });

  test('a signal lost at the end, and one that only returns to the level the run began at', () => {
    const lost = readRun(madeRecord(steady(400, 0.05, (t) => (t > 550 ? 0.01 : 1))));
    expect(kinds(lost)).toEqual(['signal lost at the end']);
    expect(lost.verdict.grade).toBe('keep these minutes');
    const diverted = readRun(madeRecord(steady(400, 0.05, (t) => (t < 60 || t > 550 ? 0.01 : 1))));
    expect(kinds(diverted)).toEqual(['signal lost at the end']);
    expect(diverted.events[0]!.confidence).toBeLessThan(0.5);
    expect(diverted.trustworthy[0]!.start_s).toBeGreaterThanOrEqual(60);
  });

  test('a start without spray is left out also where no such end follows, and a low start of a peak is not', () => {
    const cut = readRun(
      madeRecord(
        steady(400, 0.05, (t) => (t < 290 ? 0.01 : 1)),
        { broken: { byte: 9, reason: 'cut' } },
      ),
    );
    expect(cut.trustworthy[0]!.start_s).toBeGreaterThanOrEqual(288);
    expect(cut.trustworthy_share).toBeLessThan(0.53);
    // Half of the time is left although nothing failed: no reason to repeat, and a file cut short is never kept whole.
    expect(cut.verdict.grade).toBe('keep these minutes');
    expect(cut.verdict.sentence).toContain('breaks off');
    expect(cut.verdict.reasons.join()).toContain('far below what follows');
    const late = steady(400, 0.05, (t) => (t < 330 ? 0.01 : 1));
    const halfCut = readRun(madeRecord(late, { broken: { byte: 9, reason: 'cut' } }));
    expect(halfCut.trustworthy[0]!.start_s).toBeGreaterThanOrEqual(328);
    expect(halfCut.verdict.grade).toBe('keep these minutes');
    expect(readRun(madeRecord(late)).verdict.grade).toBe('repeat');
    const risen = readRun(madeRecord(steady(400, 0.05, (t) => (t < 60 ? 0.15 : 1))));
    expect(risen.trustworthy[0]!.start_s).toBe(0);
  });

  test('a level that flickers by half from scan to scan is to be repeated', () => {
    expect(readRun(madeRecord(steady(400, 0.5))).verdict.grade).toBe('repeat');
  });

  test('data-dependent jitter of 15 % is not', () => {
    expect(readRun(madeRecord(steady(400, 0.15))).verdict.grade).toBe('keep');
  });
});

describe('thin and broken input', () => {
  test('no scans, three scans, a short run: cannot tell, and why', () => {
    for (const scans of [[], steady(3), steady(100, 0.05, () => 1, 0.3)]) {
      const reading = readRun(madeRecord(scans));
      expect(reading.verdict.grade).toBe('cannot tell');
      expect(reading.trustworthy).toEqual([]);
      expect(reading.undecided.length).toBeGreaterThanOrEqual(4);
      expect(jsonFault(reading)).toBeUndefined();
    }
  });

  test('zeros are losses with a finite depth; nothing but zeros is to be repeated', () => {
    const scans = steady(400).map((scan, i) => (i >= 200 && i < 204 ? { ...scan, tic: 0 } : scan));
    const reading = readRun(madeRecord(scans));
    expect(kinds(reading)).toEqual(['dropout']);
    expect(reading.events[0]!.depth!).toBeGreaterThan(0.99);
    expect(jsonFault(reading)).toBeUndefined();
    const silent = readRun(madeRecord(scans.map((scan) => ({ ...scan, tic: 0 }))));
    expect(silent.verdict.grade).toBe('repeat');
    expect(jsonFault(silent)).toBeUndefined();
  });

  test('one missing stated current makes the level the sum; unreadable scans are left out with a warning', () => {
    const scans = steady(400).map((scan, i) => ({
      ...scan,
      summed: i === 7 ? Number.NaN : scan.tic! * 0.7,
      tic: i === 5 ? Number.NaN : scan.tic!,
    }));
    const reading = readRun(madeRecord(scans));
    expect(reading.groups[0]!.level_from).toBe('summed');
    expect(reading.groups[0]!.ms1_count).toBe(399);
    expect(Math.abs(reading.groups[0]!.summed_over_stated! - 0.7)).toBeLessThan(1e-12);
    expect(reading.warnings.join()).toContain('1 MS1 scans have no readable level');
  });

  test('a ratio of the two that changes is a warning', () => {
    const scans = steady(300).map((scan, i) => ({ ...scan, summed: scan.tic! * (i < 150 ? 1 : 0.4) }));
    expect(readRun(madeRecord(scans)).warnings.join()).toContain('2.5-fold');
  });

  test('times that are missing or step back do not break the series', () => {
    const scans = steady(400).map((scan, i) => (i === 3 ? { ...scan, time_s: Number.NaN } : scan));
    [scans[10], scans[11]] = [scans[11]!, scans[10]!];
    const reading = readRun(madeRecord(scans));
    const { time_s } = reading.groups[0]!.series;
    expect(time_s).toHaveLength(399);
    expect(time_s).toEqual([...time_s].sort((a, b) => a - b));
    expect(reading.warnings).toHaveLength(2);
  });

  test('a break, warnings and the mark of invention are carried over', () => {
    const broken = { byte: 1234, reason: 'the file ends inside a spectrum' };
    const reading = readRun(madeRecord(steady(400), { broken, invented: true, warnings: ['as read'] }));
    expect(reading.broken).toEqual(broken);
    expect(reading.invented).toBe(true);
    expect(reading.warnings).toEqual(['as read']);
    expect(reading.verdict.reasons.join()).toContain('breaks off');
    expect(reading.verdict.reasons.join()).toContain('invented');
  });
});

describe('injection time', () => {
  test('fills at the maximum are told apart from one longest fill', () => {
    const fill = (limit: number): MadeScan[] =>
      steady(400).map((scan, i) => ({ ...scan, injection_ms: Math.min(limit, 10 + (i % 100)) }));
    expect(readRun(madeRecord(fill(1000))).groups[0]!.injection_time!.clamped_share).toBe(0);
    const clamped = readRun(madeRecord(fill(50))).groups[0]!.injection_time!;
    expect(clamped.max_ms).toBe(50);
    expect(Math.abs(clamped.clamped_share - 0.6)).toBeLessThan(0.02);
  });

  test('a fill that lengthens raises belief in a dropout, one that does not lowers it', () => {
    const gone = (t: number): number => (t >= 300 && t < 309 ? 0.1 : 1);
    const level = steady(400, 0.05, gone);
    const belief = (fill: (scan: MadeScan) => number | undefined): number => {
      const scans = level.map((scan) => {
        const injection_ms = fill(scan);
        return injection_ms === undefined ? scan : { ...scan, injection_ms };
      });
      const reading = readRun(madeRecord(scans));
      expect(kinds(reading)).toEqual(['dropout']);
      return reading.events[0]!.confidence;
    };
    const alone = belief(() => undefined);
    expect(belief((scan) => Math.min(50, 10 / gone(scan.time_s)))).toBeGreaterThan(alone);
    expect(belief((scan) => 10 + (scan.time_s < 30 ? 40 : 0))).toBeLessThan(alone);
  });
});

test('the unit of the level changes no event', () => {
  const scans = steady(400, 0.1, (t) =>
    t >= 150 && t < 156 ? 0.05 : t >= 300 && t < 370 ? 0.5 : t > 580 ? 0.01 : 1,
  );
  const plain = readRun(madeRecord(scans));
  expect(kinds(plain)).toEqual(['dropout', 'sag', 'signal lost at the end']);
  fc.assert(
    fc.property(fc.double({ min: -9, max: 9, noNaN: true }), (exponent) => {
      const scaled = readRun(madeRecord(scans.map((scan) => ({ ...scan, tic: scan.tic! * 10 ** exponent }))));
      expect(kinds(scaled)).toEqual(kinds(plain));
      scaled.events.forEach((event, i) => {
        expect([event.start_s, event.end_s]).toEqual([plain.events[i]!.start_s, plain.events[i]!.end_s]);
      });
      expect(scaled.trustworthy).toEqual(plain.trustworthy);
    }),
    { numRuns: 50 },
  );
});

test('whatever the numbers, the reading is plain JSON and its intervals are in order', () => {
  const odd = fc.oneof(fc.double(), fc.constantFrom(Number.NaN, 0, Number.POSITIVE_INFINITY, -1, 1e300));
  const scan = fc.record({ time_s: fc.oneof(fc.nat(300), odd), tic: odd, summed: odd, injection_ms: odd });
  fc.assert(
    fc.property(fc.array(scan, { maxLength: 80 }), (scans) => {
      const reading = readRun(madeRecord(scans));
      expect(jsonFault(reading)).toBeUndefined();
      for (const piece of reading.trustworthy) expect(piece.start_s).toBeLessThan(piece.end_s);
      expect(reading.trustworthy_share).toBeGreaterThanOrEqual(0);
      expect(reading.trustworthy_share).toBeLessThanOrEqual(1 + 1e-9);
    }),
    { numRuns: 300 },
  );
});

function recordOfTruth(options: Parameters<typeof inventedRunTruth>[0]) {
  const { time_s, level, injection_ms } = inventedRunTruth(options);
  return madeRecord(
    time_s.map((time, i) => ({ time_s: time, tic: level[i]!, injection_ms: injection_ms[i]! })),
    { invented: true },
  );
}
