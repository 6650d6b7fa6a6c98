/** A run held against good ones: invented pairs with known faults and friends. */
import { beforeAll, describe, expect, test } from 'vitest';
import { type MadeRun, madeRun } from '../../../test/kit/made-pair.ts';
import { jsonFault } from '../../../test/kit/made-record.ts';
import type { RunReading } from '../run-reading.ts';
import { againstCsv, againstText, readAgainst } from './index.ts';

const ALARM = 0.5;
/** Steps of ten seconds, and two of them for the edge of a change. */
const PLACE_S = 25;

let good: RunReading;
beforeAll(() => {
  good = madeRun({ seed: 1 });
});

const against = (made: Partial<MadeRun>, ...others: RunReading[]) =>
  readAgainst(
    madeRun({ seed: 2, ...made }),
    (others.length > 0 ? others : [good]).map((reading, i) => ({ name: `good ${i + 1}`, reading })),
  );
const alarms = (reading: ReturnType<typeof readAgainst>) =>
  reading.events.filter(({ confidence }) => confidence >= ALARM);

describe('a good pair', () => {
  test('is flat, rests on the standing ions, and is plain JSON', () => {
    const reading = against({});
    expect(reading.from).toBe('standing ions');
    // Made with 40; the weakest may be lost in a step.
    expect(reading.references[0]?.ions).toBeGreaterThan(30);
    expect(reading.events).toEqual([]);
    expect(Math.abs((reading.ratio?.value ?? 0) - 1)).toBeLessThan(0.05);
    expect(reading.sentences.join(' ')).toContain('The ratio is flat');
    expect(reading.undecided.join(' ')).toContain('a second good run');
    expect(jsonFault(JSON.parse(JSON.stringify(reading)))).toBeUndefined();
    expect(jsonFault(reading)).toBeUndefined();
    expect(reading.series?.log.filter((value) => value !== null).length).toBeGreaterThan(90);
  });

  test('half as strong all through is told as position, not as a fault', () => {
    const reading = against({ spray: () => 0.5 });
    expect(alarms(reading)).toEqual([]);
    expect(Math.abs((reading.ratio?.value ?? 0) - 0.5)).toBeLessThan(0.03);
    expect(reading.sentences.join(' ')).toContain('by itself no fault of the spray');
  });

  test('twice the sample is told as load: standing ions do not move', () => {
    const reading = against({ load: () => 2 });
    expect(alarms(reading)).toEqual([]);
    expect(Math.abs((reading.ratio?.value ?? 0) - 1)).toBeLessThan(0.05);
    // Six steps of ten seconds sample a peak of nine: areas are known to some tenth.
    expect(Math.abs((reading.load?.value ?? 0) / 2 - 1)).toBeLessThan(0.15);
    expect(reading.sentences.join(' ')).toContain('another load of sample');
  });

  test('a column on which all comes 4 % later is laid over, and is no fault', () => {
    const reading = against({ comes: (t) => t / 1.04 });
    expect(alarms(reading)).toEqual([]);
    const alignment = reading.references[0]?.alignment;
    expect(alignment?.from).toBe('passing ions');
    // Time of the good run less that of this one: t / 1.04 - t.
    for (const { time_s, shift_s } of alignment?.points ?? [])
      expect(Math.abs(shift_s - (time_s / 1.04 - time_s))).toBeLessThan(6);
    expect(alignment?.points.length).toBeGreaterThan(5);
  });
});

describe('faults', () => {
  test('a step of 30 % stands at its place with its size', () => {
    const reading = against({ spray: (t) => (t < 560 ? 1 : 0.7) });
    const [event, ...rest] = alarms(reading);
    expect(rest).toEqual([]);
    expect(event?.kind).toBe('step');
    expect(event?.common).toBe(true);
    expect(Math.abs(event!.start_s - 560)).toBeLessThan(PLACE_S);
    expect(Math.abs((event?.depth ?? 0) - 0.3)).toBeLessThan(0.04);
    expect(event?.causes?.length).toBeGreaterThan(2);
    expect(againstText(reading)).toContain('stays 3');
  });

  test('a slow clog to -60 % is a slow change with its size at the end', () => {
    const reading = against({ spray: (t) => (t < 480 ? 1 : Math.exp((-0.9 * (t - 480)) / 480)) });
    const [event] = alarms(reading);
    expect(event?.kind).toBe('drift');
    expect(Math.abs((event?.depth ?? 0) - 0.59)).toBeLessThan(0.06);
  });

  test('a sag of a minute by 60 % is one', () => {
    const reading = against({ spray: (t) => (t >= 600 && t < 660 ? 0.4 : 1) });
    const sags = alarms(reading).filter(({ kind }) => kind === 'sag');
    expect(sags).toHaveLength(1);
    expect(Math.abs(sags[0]!.start_s - 600)).toBeLessThan(PLACE_S);
    expect(Math.abs(sags[0]!.end_s - 660)).toBeLessThan(PLACE_S);
    expect(Math.abs((sags[0]!.depth ?? 0) - 0.6)).toBeLessThan(0.08);
  });

  test('scatter that grows where that of the good run does not', () => {
    const reading = against({ scatter: (t) => (t < 560 ? 0.06 : 0.06 + (0.2 * (t - 560)) / 400) });
    expect(alarms(reading).map(({ kind }) => kind)).toContain('flicker');
    expect(alarms(reading).filter(({ kind }) => kind !== 'flicker')).toEqual([]);
  });

  test('scatter that grows in both is the method’s', () => {
    const grows = (t: number): number => (t < 560 ? 0.06 : 0.06 + (0.2 * (t - 560)) / 400);
    expect(alarms(against({ scatter: grows }, madeRun({ seed: 6, scatter: grows })))).toEqual([]);
  });

  test('the fault of a reference is the other sign, and two good runs against it tell', () => {
    const faulty = madeRun({ seed: 3, spray: (t) => (t < 560 ? 1 : 0.6) });
    const alone = against({}, faulty);
    expect(alarms(alone)[0]?.depth).toBeNull();
    const three = against({}, good, faulty, madeRun({ seed: 4 }));
    expect(alarms(three)).toEqual([]);
  });
});

describe('without standing ions', () => {
  test('passing ions show the step, and the words say what they cannot', () => {
    const bare = madeRun({ seed: 5, bare: true });
    const flat = against({ bare: true }, bare);
    expect(flat.from).toBe('passing ions');
    expect(alarms(flat)).toEqual([]);
    expect(flat.load).toBeUndefined();
    expect(Math.abs((against({ bare: true, spray: () => 0.5 }, bare).ratio?.value ?? 0) - 0.5)).toBeLessThan(
      0.03,
    );
    const reading = against({ bare: true, spray: (t) => (t < 560 ? 1 : 0.6) }, bare);
    expect(alarms(reading)[0]?.kind).toBe('step');
    expect(Math.abs((alarms(reading)[0]?.depth ?? 0) - 0.4)).toBeLessThan(0.07);
    expect(reading.undecided.join(' ')).toContain('column that ages');
  });

  test('the level alone serves where the course is the same', () => {
    const level = madeRun({ seed: 5, unseen: true });
    const flat = against({ unseen: true }, level);
    expect(flat.from).toBe('level');
    expect(alarms(flat)).toEqual([]);
    const reading = against({ unseen: true, spray: (t) => (t < 560 ? 1 : 0.6) }, level);
    expect(alarms(reading)[0]?.kind).toBe('step');
    expect(alarms(reading)[0]?.confidence_basis).toContain('the level alone');
  });
});

describe('no good run of this method is refused by name', () => {
  test.each([
    ['the other polarity', { polarity: -1 }],
    ['another scan mode', { window: [200, 900] as [number, number] }],
    ['another scan cycle', { interval_s: 8 }],
    ['too little overlap', { minutes: 7 }],
    ['other ions', { other: true }],
  ])('%s', (words, made) => {
    const reading = against({}, madeRun({ seed: 3, ...made }));
    expect(reading.from).toBeUndefined();
    expect(reading.events).toEqual([]);
    expect(reading.references[0]?.refused).toContain(words);
    expect(againstText(reading)).toContain('cannot serve as the good run');
  });

  test('another course of the level', () => {
    const reading = against({ unseen: true }, madeRun({ seed: 3, unseen: true, other: true }));
    expect(reading.references[0]?.refused).toContain('another course');
  });
});

test('the series as values: a row for each step', () => {
  const reading = against({});
  const rows = againstCsv(reading).trimEnd().split('\r\n');
  expect(rows).toHaveLength(1 + reading.series!.time_s.length);
  expect(rows[0]).toBe('time_s,ratio_over_usual,low_95,high_95,usual_ratio');
});
