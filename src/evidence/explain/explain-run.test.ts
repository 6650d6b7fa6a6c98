import { describe, expect, it } from 'vitest';
import { madeRun } from '../../../test/kit/made-queue.ts';
import { inventedReading } from '../../../test/kit/made-reading.ts';
import { jsonFault, type MadeScan, madeRecord } from '../../../test/kit/made-record.ts';
import { setupFrom } from '../../contract/index.ts';
import { OBSERVABLES } from '../../core/causes/index.ts';
import { planFor } from '../../core/plan/index.ts';
import { randomStream } from '../../core/random.ts';
import { readRun } from '../index.ts';
import { runSummary } from '../queue/index.ts';
import type { RunEvent, RunEventKind } from '../run-reading.ts';
import type { OlderRun } from './context.ts';
import { explainRun, findingsOf } from './explain-run.ts';

const MINUTES = 40;
const INTERVAL_S = 1.5;

/** A run with a level that `course` shapes, scattering by `scatter`. */
function run(course: (time_s: number) => number, scatter = 0.03, parts: Partial<MadeScan> = {}) {
  const noise = randomStream(5, 'made run');
  const scans = Array.from({ length: (MINUTES * 60) / INTERVAL_S }, (_, i) => {
    const time_s = i * INTERVAL_S;
    return { time_s, tic: 1e8 * course(time_s) * noise.factor(scatter), ...parts };
  });
  return readRun(madeRecord(scans));
}
const older = (count: number, level: number, parts = {}): OlderRun[] =>
  Array.from({ length: count }, (_, i) => ({
    summary: madeRun({ level: level * (1 + 0.02 * (i % 3)), scan_scatter: 0.03, ...parts }),
    began: new Date(Date.UTC(2031, 1, 3, i)).toISOString(),
  }));
const said = (findings: ReturnType<typeof findingsOf>, id: string) => {
  const found = findings.find(({ observable }) => observable === id);
  if (found === undefined || typeof found.outcome === 'string') return undefined;
  const [outcome, share] = Object.entries(found.outcome).sort((a, b) => b[1] - a[1])[0]!;
  return { outcome, share, sentence: found.sentence };
};

describe('evidence from a run', () => {
  it('answers each question once, with beliefs that add to one and a sentence that names the run', () => {
    const reading = inventedReading();
    const findings = findingsOf({ run: { reading, from: 'run_7', older: older(6, 1e8) } });
    expect(findings.length).toBeGreaterThan(3);
    expect(new Set(findings.map(({ observable }) => observable)).size).toBe(findings.length);
    for (const { observable, outcome, sentence } of findings) {
      const known = OBSERVABLES.find(({ id }) => id === observable)!.outcomes.map(({ id }) => id);
      expect(Object.keys(outcome)).toEqual(known);
      const sum = Object.values(outcome as Record<string, number>).reduce((a, b) => a + b, 0);
      expect(sum, observable).toBeCloseTo(1, 12);
      expect(sentence).toMatch(/^(run_7|bench|The level)/);
    }
  });

  it('tells a level under the usual one from one as usual, and needs earlier runs for either', () => {
    const low = run(() => 0.4);
    expect(said(findingsOf({ run: { reading: low, from: 'low' } }), 'level')).toBeUndefined();
    expect(
      said(findingsOf({ run: { reading: low, from: 'low', older: older(5, 1e8) } }), 'level')?.outcome,
    ).toBe('lower');
    const same = findingsOf({ run: { reading: run(() => 1), from: 'same', older: older(5, 1e8) } });
    expect(said(same, 'level')?.outcome).toBe('usual');
    expect(said(same, 'level')?.sentence).toContain('5 earlier runs');
  });

  it('reads a loss that stays as sudden and gone', () => {
    const lost = findingsOf({ run: { reading: run((t) => (t > 1500 ? 1e-3 : 1)), from: 'lost' } });
    expect(said(lost, 'level')?.outcome).toBe('none');
    expect(said(lost, 'trend')?.outcome).toBe('sudden');
    expect(said(lost, 'shape')?.outcome).toBe('step');
  });

  it('tells square falls from those with an overshoot', () => {
    const falls = (after: number) => (t: number) => {
      const since = (t % 600) - 300;
      return since < 0 || since > 25 ? 1 : since < 20 ? 0.05 : after;
    };
    const square = findingsOf({ run: { reading: run(falls(1)), from: 'square' } });
    expect(said(square, 'shape')?.outcome).toBe('square');
    const over = findingsOf({ run: { reading: run(falls(1.6)), from: 'over' } });
    expect(said(over, 'shape')?.outcome).toBe('overshoot');
  });

  it('finds falls that come back after equal times', () => {
    const regular = findingsOf({ run: { reading: run((t) => (t % 240 > 228 ? 0.1 : 1)), from: 'regular' } });
    expect(said(regular, 'period')?.outcome).toBe('minutes');
  });

  it('reads scatter beside earlier runs and by itself', () => {
    const ragged = run(() => 1, 0.3);
    expect(said(findingsOf({ run: { reading: ragged, from: 'r' } }), 'scatter')?.outcome).toBe('larger');
    const usual = older(5, 1e8, { scan_scatter: 0.3 });
    expect(said(findingsOf({ run: { reading: ragged, from: 'r', older: usual } }), 'scatter')?.outcome).toBe(
      'usual',
    );
  });

  it('follows the level over the runs of an emitter', () => {
    const falling = older(12, 1).map((one, i) => ({
      ...one,
      summary: { ...one.summary, level: 2e8 * 0.95 ** i },
    }));
    const trend = said(findingsOf({ run: { reading: run(() => 1), from: 'last', older: falling } }), 'trend');
    expect(trend?.outcome).toBe('hours');
    expect(trend?.sentence).toMatch(/fell by \d+ % over 13 runs/);
  });

  it('reads what the peaks told: a ripple and what may hide behind it, gaps, and ions that fell together', () => {
    const reading = run(() => 1);
    const event = (kind: RunEventKind, parts: Partial<RunEvent> = {}): RunEvent => ({
      kind,
      group: 0,
      start_s: 600,
      end_s: 1200,
      depth: 0.2,
      confidence: 0.9,
      confidence_basis: 'made',
      sentence: 'made',
      ...parts,
    });
    const seen = (...events: RunEvent[]) =>
      findingsOf({ run: { reading: { ...reading, events }, from: 'made' } });
    const ripple = seen(event('ripple', { period_s: 13 }));
    expect(said(ripple, 'period')).toMatchObject({
      outcome: 'seconds',
      sentence: 'made: a ripple every 13 s.',
    });
    expect(said(ripple, 'shape')?.outcome).toBe('ripple');
    expect(said(ripple, 'scatter')?.outcome).toBe('larger');
    expect(said(seen(event('ripple', { period_s: 90 })), 'period')?.outcome).toBe('minutes');
    const gap = seen(event('acquisition gap', { depth: null, end_s: 640 }));
    expect(said(gap, 'shape')?.outcome).toBe('missing');
    expect(said(seen(event('sag', { common: true })), 'background')?.outcome).toBe('together');
    expect(said(seen(event('sag', { common: false })), 'background')?.outcome).toBe('stay');
    expect(
      said(seen(event('sag', { common: true }), event('sag', { common: false })), 'background'),
    ).toBeUndefined();
    const start = seen(event('dropout', { start_s: 10, end_s: 30 }));
    expect(said(start, 'when')?.outcome).toBe('start');
    expect(said(seen(event('dropout', { start_s: 2300, end_s: 2330 })), 'when')?.outcome).toBe('end');
    expect(said(seen(event('flicker', { start_s: 300, end_s: 2000 })), 'when')?.outcome).toBe('throughout');
    expect(said(seen(event('ripple', { period_s: 13, confidence: 0.3 })), 'period')).toBeUndefined();
  });

  it('reads fills at their maximum, and one polarity that scatters more', () => {
    const full = { ...run(() => 1) };
    const group = full.groups[0]!;
    const times = { median_ms: 100, max_ms: 100, clamped_share: 0.9 };
    const clamped = { ...full, groups: [{ ...group, injection_time: times }] };
    expect(said(findingsOf({ run: { reading: clamped, from: 'full' } }), 'fill')?.outcome).toBe('maximum');
    const both = {
      ...full,
      groups: [
        { ...group, polarity: 'positive' as const, scan_scatter: 0.05 },
        { ...group, polarity: 'negative' as const, scan_scatter: 0.2 },
      ],
    };
    expect(said(findingsOf({ run: { reading: both, from: 'both' } }), 'polarity')?.outcome).toBe('negative');
  });

  it('says nothing of a run too short to judge', () => {
    const short = readRun(
      madeRecord([
        { time_s: 0, tic: 1 },
        { time_s: 1, tic: 1 },
      ]),
    );
    expect(findingsOf({ run: { reading: short, from: 'short' } })).toEqual([]);
  });

  it('answers "when" from several runs where they show the same minute', () => {
    const reading = run((t) => (t > 1200 && t < 1260 ? 0.3 : 1));
    const event = runSummary(reading).events.map((one) => ({ ...one }));
    expect(event.length).toBeGreaterThan(0);
    const before = older(8, 1e8).map((one) => ({
      ...one,
      summary: { ...one.summary, end_s: MINUTES * 60, events: event },
    }));
    const finding = findingsOf({ run: { reading, from: 'again', older: before } }).find(
      ({ observable }) => observable === 'when',
    );
    expect(finding?.from).toBe('bench');
    expect(finding?.sentence).toContain('9 of 9 runs');
  });
});

describe('evidence from plan, current and frames', () => {
  const setup = (supply_V: number) =>
    setupFrom({
      emitter: { bore_um: 10, rim_um: 20, taper_half_angle_deg: 8, material: 'fused silica', wets: 'rim' },
      liquid: { acetonitrile_percent: 20, additive: 'formic acid', additive_percent: 0.1 },
      feed: { kind: 'pumped', flow_nL_min: 300 },
      polarity: 'positive',
      inlet: { distance_mm: 3, bore_mm: 0.5 },
      voltage: { supply_V, contact: 'tip' },
    });

  it('holds the set voltage against the window', () => {
    const low = setup(400);
    const found = findingsOf({ plan: { setup: low, plan: planFor(low) } });
    expect(said(found, 'plan-voltage')?.outcome).toBe('below');
    expect(said(found, 'plan-distance')?.outcome).toBe('usual');
    expect(said(found, 'plan-flow')).toBeDefined();
    const high = setup(4500);
    expect(said(findingsOf({ plan: { setup: high, plan: planFor(high) } }), 'plan-voltage')?.outcome).toBe(
      'above',
    );
  });

  it('names a regime an inference until current or frames are there', () => {
    const reading = run(() => 1, 0.3);
    expect(explainRun({ run: { reading, from: 'r' } }).inference).toContain('inferences');
    const current = { regime: 'pulsating', probability: 0.9, multipleOfExpected: 0.5 };
    const seen = explainRun({ run: { reading, from: 'r' }, current });
    expect(seen.inference).toBeUndefined();
    expect(said(seen.findings, 'current')?.outcome).toBe('lower');
    expect(said(seen.findings, 'current-form')?.outcome).toBe('pulses');
    expect(explainRun({ frames: { meniscus: 'cone', probability: 0.8 } }).inference).toBeUndefined();
  });

  it('refuses beliefs that are none', () => {
    expect(() => explainRun({ current: { regime: 'cone-jet', probability: 2 } })).toThrow(/out of range/);
    expect(() => explainRun({ current: { regime: 'jumpy', probability: 1 } })).toThrow(
      /unknown regime: jumpy/,
    );
    expect(explainRun({ current: { regime: 'pick-up', probability: 1 } }).findings).toEqual([]);
    expect(() => explainRun({ frames: { meniscus: 'moon', probability: 1 } })).toThrow(
      /unknown meniscus: moon/,
    );
  });
});

describe('odd evidence', () => {
  const sane = (explanation: ReturnType<typeof explainRun>) => {
    const { causes, outside, two_faults } = explanation.ranked;
    const sum = causes.reduce((total, { probability }) => total + probability, 0) + outside + two_faults;
    expect(Math.abs(sum - 1)).toBeLessThan(1e-9);
    expect(jsonFault(JSON.parse(JSON.stringify(explanation)))).toBeUndefined();
    return explanation;
  };

  it('answers nothing with what is met most and the first thing to look at', () => {
    const { ranked, next, missing } = sane(explainRun({}));
    expect(ranked.sentence).toContain('Nothing was observed');
    expect(next.length).toBeGreaterThan(0);
    expect(missing.length).toBeGreaterThan(2);
  });

  it('takes contradictory answers as undecided and says so', () => {
    const answers = [
      { observable: 'level', outcome: 'usual' },
      { observable: 'pressure', outcome: 'rising' },
    ];
    const reading = run((t) => (t > 1500 ? 1e-3 : 1));
    const { ranked } = sane(explainRun({ answers, run: { reading, from: 'lost' } }));
    expect(ranked.remarks.join(' ')).toContain('contradict');
  });

  it('bears every answer at once, and every question refused', () => {
    const answers = OBSERVABLES.map(({ id, outcomes }) => ({ observable: id, outcome: outcomes.at(-1)!.id }));
    expect(sane(explainRun({ answers })).next).toEqual([]);
    const cannot = OBSERVABLES.map(({ id }) => id);
    expect(sane(explainRun({ cannot })).next).toEqual([]);
  });

  it('keeps the last of two answers to one question', () => {
    const twice = explainRun({
      answers: [
        { observable: 'swap', outcome: 'cured' },
        { observable: 'swap', outcome: 'same' },
      ],
    });
    const once = explainRun({ answers: [{ observable: 'swap', outcome: 'same' }] });
    expect(twice.ranked.causes[0]).toEqual(once.ranked.causes[0]);
  });

  it('refuses a question that is none by name', () => {
    expect(() => explainRun({ answers: [{ observable: 'smell', outcome: 'sweet' }] })).toThrow(
      /unknown question: smell/,
    );
    expect(() => explainRun({ cannot: ['smell'] })).toThrow(/unknown question: smell/);
  });

  it('finds nothing wrong with a steady run', () => {
    expect(explainRun({ run: { reading: run(() => 1), from: 'good' } }).nothing_wrong).toContain(
      'good shows',
    );
    expect(explainRun({ run: { reading: run(() => 1, 0.4), from: 'bad' } }).nothing_wrong).toBeNull();
  });
});
