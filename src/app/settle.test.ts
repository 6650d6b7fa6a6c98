import {
  appendFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { settleSessionFrom } from '../contract/index.ts';
import { InputError } from '../core/errors.ts';
import { onsetLaw } from '../core/settling/index.ts';
import { packagePath } from './package-root.ts';
import { addReading, loadSettleDocument, newSettleLog, openSettleLog, preparedSession } from './settle.ts';
import { levelFromTrace } from './settle-levels.ts';
import { loadSetupFile } from './setup-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'steadycone-settle-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (name: string) => join(folder, name);
const DOCUMENT = {
  start: { voltage_V: 1500, distance_mm: 3 },
  axes: { voltage_V: { low: 900, high: 2400, step: 10 } },
  supply_limit_V: 3000,
};
const AT = { voltage_V: 1500, distance_mm: 3, lateral_x_mm: 0, lateral_y_mm: 0, angle_deg: 0 };

describe('the log of a session', () => {
  it('keeps what was written and begins no second session over it', async () => {
    const path = file('a.log');
    await newSettleLog(path, settleSessionFrom(DOCUMENT), new Date('2030-01-02T03:04:05Z'));
    await addReading(path, { time_s: 10, at: AT, level: 2e6, scatter_percent: 4, seen: ['tilted'] });
    const { session, began } = await openSettleLog(path);
    expect(began.toISOString()).toBe('2030-01-02T03:04:05.000Z');
    expect(session.readings).toEqual([
      { time_s: 10, at: AT, level: 2e6, scatter_percent: 4, seen: ['tilted'] },
    ]);
    await expect(newSettleLog(path, settleSessionFrom(DOCUMENT))).rejects.toThrow(
      'a file that does not exist yet',
    );
  });

  it('loses only the line that was being written in a crash, says so, and goes on', async () => {
    const path = file('crash.log');
    await newSettleLog(path, settleSessionFrom(DOCUMENT));
    for (let k = 0; k < 3; k++) await addReading(path, { time_s: 20 * k, at: AT, level: 1 + k });
    const whole = readFileSync(path, 'utf8');
    const last = whole.lastIndexOf('\n', whole.length - 2) + 1;
    let cuts = 0;
    for (let cut = last + 1; cut < whole.length - 1; cut += 7) {
      writeFileSync(path, whole.slice(0, cut));
      const { session, warnings } = await openSettleLog(path);
      expect(session.readings).toHaveLength(2);
      expect(warnings.join(' ')).toContain('take that reading again');
      cuts++;
    }
    expect(cuts).toBeGreaterThan(10);
    await addReading(path, { time_s: 70, at: AT, level: 9 });
    const { session, warnings } = await openSettleLog(path);
    expect(session.readings.map(({ level }) => level)).toEqual([1, 2, 9]);
    expect(warnings).toEqual([]);
    // A whole last line that only lacks its end is kept.
    writeFileSync(path, whole.slice(0, -1));
    await addReading(path, { time_s: 80, at: AT, level: 7 });
    expect((await openSettleLog(path)).session.readings.map(({ level }) => level)).toEqual([1, 2, 3, 7]);
  });

  it('keeps every one of many readings that are added at once', async () => {
    const path = file('at-once.log');
    await newSettleLog(path, settleSessionFrom(DOCUMENT));
    // The first finds a line that a crash cut.
    appendFileSync(path, '{"reading":{"time_s":1,');
    const levels = Array.from({ length: 12 }, (_, k) => k + 1);
    await Promise.all(levels.map((level) => addReading(path, { time_s: 5, at: AT, level })));
    const { session, warnings } = await openSettleLog(path);
    expect(session.readings.map(({ level }) => level).sort((a, b) => a - b)).toEqual(levels);
    expect(warnings).toEqual([]);
    expect(existsSync(`${path}.lock`)).toBe(false);
  });

  it('is not stopped for ever by a lock that a crash left', async () => {
    const path = file('stale.log');
    await newSettleLog(path, settleSessionFrom(DOCUMENT));
    writeFileSync(`${path}.lock`, '');
    utimesSync(`${path}.lock`, new Date('2030-01-01'), new Date('2020-01-01'));
    await addReading(path, { time_s: 5, at: AT, level: 3 });
    expect((await openSettleLog(path)).session.readings).toHaveLength(1);
  });

  it.each([
    ['NaN', { level: Number.NaN }],
    ['a negative level', { level: -1 }],
    ['1e99', { level: 1e99 }],
    ['infinity', { level: Number.POSITIVE_INFINITY }],
    ['a negative scatter', { level: 1, scatter_percent: -2 }],
    ['a place without end', { level: 1, at: { ...AT, distance_mm: Number.NaN } }],
    ['a voltage of 1e99', { level: 1, at: { ...AT, voltage_V: 1e99 } }],
  ])('refuses %s in one line and keeps the log as it was', async (name, changes) => {
    const path = file(`absurd ${name}.log`);
    await newSettleLog(path, settleSessionFrom(DOCUMENT));
    await addReading(path, { time_s: 1, at: AT, level: 5 });
    const before = readFileSync(path, 'utf8');
    const trouble = await addReading(path, { time_s: 2, at: AT, ...changes }).catch((e) => e);
    expect(trouble).toBeInstanceOf(InputError);
    expect(trouble.message).toMatch(/^(out of range|invalid) (level|scatter_percent|at\.)/);
    expect(trouble.message).not.toContain('\n');
    expect(readFileSync(path, 'utf8')).toBe(before);
  });

  it('refuses a line that is broken in the middle, with its number', async () => {
    const path = file('broken.log');
    await newSettleLog(path, settleSessionFrom(DOCUMENT));
    appendFileSync(path, '{"reading": oops}\n');
    await addReading(path, { time_s: 1, at: AT, level: 1 });
    await expect(openSettleLog(path)).rejects.toThrow('broken.log, line 2');
  });
});

describe('a session document', () => {
  it('names every fault at once', () => {
    const wrong = {
      ...DOCUMENT,
      start: { voltage_V: 3500, distance_mm: 3 },
      axes: { voltage_V: { low: 2400, high: 900, step: 10 } },
    };
    expect(() => settleSessionFrom(wrong)).toThrow(/axes\.voltage_V\.high[\s\S]*start\.voltage_V/);
    expect(() => settleSessionFrom({ ...DOCUMENT, axes: {} })).toThrow('missing axes');
  });

  it('takes onset over distance, flow and polarity from the plan of its set-up', async () => {
    const document = await loadSettleDocument(packagePath('examples/settle-harbour.yaml'));
    document.setup = await loadSetupFile(packagePath('examples/gradient-proteomics.yaml'));
    const session = preparedSession(document);
    expect(session.flow_nL_min).toBe(300);
    const rows = session.onset!.rows!;
    expect(rows).toHaveLength(5);
    for (const [k, row] of rows.entries())
      if (k > 0) expect(row.onset_V).toBeGreaterThan(rows[k - 1]!.onset_V);
    expect(session.discharge_limit_V).toBeGreaterThan(session.start.voltage_V);
    expect(Number.isFinite(onsetLaw(session).base(2, 0))).toBe(true);
  });
});

describe('level and scatter from a current trace', () => {
  const rows = (unit: string, sign = 1) => [
    `time_s;current${unit}`,
    ...Array.from({ length: 21 }, (_, k) => `${k};${sign * (100 + (k % 3) - 1)},5`),
  ];
  /** A third each of 99.5, 100.5 and 101.5: the middle absolute deviation is 1, times 1.4826 of 100.5. */
  const SCATTER_PERCENT = 1.47;

  it.each([
    ['as the file writes it', '_nA', 1],
    ['with the leads reversed', '_nA', -1],
  ])('%s', async (name, unit, sign) => {
    const path = file(`trace ${name}.csv`);
    writeFileSync(path, rows(unit, sign).join('\n'));
    const { level, scatter_percent } = await levelFromTrace(path);
    expect(level).toBeCloseTo(100.5, 6);
    expect(scatter_percent).toBeCloseTo(SCATTER_PERCENT, 2);
  });

  it('asks for a unit the file does not say, and takes it', async () => {
    const path = file('bare.csv');
    writeFileSync(path, rows('').join('\n'));
    await expect(levelFromTrace(path)).rejects.toThrow(/missing unit of the current/);
    expect((await levelFromTrace(path, { unit: 'uA' })).level).toBeCloseTo(100_500, 3);
  });
});

it('takes the ion that a session reads, and refuses one that is none', () => {
  const { session } = settleSessionFrom({
    ...DOCUMENT,
    reads: 'ion level',
    ion: { mz: 524.26, tolerance_ppm: 10 },
  });
  expect(session.ion).toEqual({ mz: 524.26, tolerance_ppm: 10 });
  expect(() => settleSessionFrom({ ...DOCUMENT, ion: { mz: -1, tolerance_ppm: 10 } })).toThrow('ion.mz');
});
