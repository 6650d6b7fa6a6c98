/** What real loggers write: other encodings, clocks, coarse times, doubled and backward rows, words instead of numbers. */
import { describe, expect, it } from 'vitest';
import { readTraceBytes, refusalOf } from '../../../test/kit/read-trace.ts';
import { clockReader, clockSeconds } from './clock-times.ts';
import { sampling } from './table-sampling.ts';
import type { TraceOptions } from './trace-record.ts';

/** One rounding of a decimal, and one of a product. */
const ROUNDING = 1e-12;

function read(data: string | Uint8Array, options: TraceOptions = {}, chunk = 1000) {
  const { current, ...rest } = readTraceBytes(data, options, chunk);
  return { ...rest, current_nA: current.map((amps) => amps * 1e9) };
}

const refusal = (data: string | Uint8Array) => refusalOf(() => read(data));

const LINES = 'time_s\tcurrent (µA)\r\n0\t0.0105\r\n0.001\t0.0115\r\n0.002\t0.0125\r\n';

function utf16(text: string, little: boolean): Uint8Array {
  const view = new DataView(new ArrayBuffer(2 * text.length));
  for (let k = 0; k < text.length; k++) view.setUint16(2 * k, text.charCodeAt(k), little);
  return new Uint8Array(view.buffer);
}

describe('encodings', () => {
  it.each([
    ['Latin-1', Uint8Array.from([...LINES].map((c) => c.charCodeAt(0)))],
    ['UTF-16 with its mark, little end first', utf16(`\ufeff${LINES}`, true)],
    ['UTF-16 with its mark, big end first', utf16(`\ufeff${LINES}`, false)],
    ['UTF-16 without a mark', utf16(LINES, true)],
    ['UTF-16 without a mark, big end first', utf16(LINES, false)],
  ])('%s, whatever the pieces', (_, bytes) => {
    for (const chunk of [1, 7, 1e6]) {
      const { head, current_nA } = read(bytes, {}, chunk);
      expect(head.rate_Hz).toBeCloseTo(1000, 9);
      expect(current_nA).toHaveLength(3);
      for (const [k, nA] of [10.5, 11.5, 12.5].entries())
        expect(Math.abs(current_nA[k]! / nA - 1)).toBeLessThan(ROUNDING);
    }
  });

  it('does not take samples of 16 bits for text', () => {
    const samples = new Int16Array(400).map((_, k) => 60 + (k % 7));
    expect(refusal(new Uint8Array(samples.buffer))).toMatch(/binary data without a sidecar/);
  });
});

describe('clocks', () => {
  it.each([
    ['9:59:55.5', 35995.5, undefined],
    ['09:59:55,25', 35995.25, undefined],
    ['12:00:01 AM', 1, undefined],
    ['1:00:00 p.m.', 46800, undefined],
    ['01.03.2026 00:00:01', 1, undefined],
    ['3/1/26 00:00:01', 1, undefined],
    ['1970-01-02T00:00:01Z', 1, 1],
    ['1970-01-02 00:00:01.5', 1.5, 1],
    ['1:05.25', 65.25, undefined],
  ])('%s', (cell, seconds, days) => {
    expect(clockSeconds(cell)).toEqual({ seconds, days });
  });

  it.each(['1:05', '12', '9:61:00', 'noon 9:59:55', '2026-03-01'])('%s is none', (cell) => {
    expect(clockSeconds(cell)).toBeUndefined();
  });

  it('goes on over midnight', () => {
    const clocks = clockReader();
    expect(['23:59:59.5', '', '0:00:00.5'].map((cell) => clocks.at(cell))).toEqual([0, Number.NaN, 1]);
  });

  it.each([
    ['a time of day', 'Time,Current (nA)\n09:59:59.9,1\n10:00:00.0,2\n10:00:00.1,3\n'],
    ['decimal comma', 'Zeit;Strom (nA)\n09:59:59,9;1,0\n10:00:00,0;2,0\n10:00:00,1;3,0\n'],
    [
      'date and time',
      'Stamp,I (nA)\n2026-03-01T23:59:59.9,1\n2026-03-02T00:00:00.0,2\n2026-03-02T00:00:00.1,3\n',
    ],
    [
      'a date beside it',
      'Date\tTime\tI (nA)\n1.3.2026\t9:59:59.9\t1\n1.3.2026\t10:00:00.0\t2\n1.3.2026\t10:00:00.1\t3\n',
    ],
  ])('%s', (_, text) => {
    const { head, current_nA, end } = read(text);
    expect(head.rate_Hz).toBeCloseTo(10, 6);
    expect(head.start_s).toBe(0);
    expect(head.notes.join()).toMatch(/counted from the first sample, at /);
    expect(current_nA.map(Math.round)).toEqual([1, 2, 3]);
    expect(end.gap_count).toBe(0);
  });
});

/** Rows at `rate`, their times printed to `digits` digits. */
function rows(count: number, rate: number, digits: number): string {
  return Array.from({ length: count }, (_, k) => `${(k / rate).toFixed(digits)},${k % 7}`).join('\n');
}

describe('times that repeat', () => {
  it('counts whole printed steps, finds no gaps between them and says so', () => {
    const { head, end } = read(`time_s,current_nA\n${rows(3000, 1000, 2)}\n`);
    // Rounding puts half a step of rows before the first change; the rest are whole.
    expect(Math.abs(head.rate_Hz / 1000 - 1)).toBeLessThan(0.01);
    expect(end.gap_count).toBe(0);
    expect(end.warnings.join()).toMatch(/2699 of 3000 samples bear the time of the one before/);
  });

  it('still finds a true gap among them', () => {
    const times = Array.from({ length: 2000 }, (_, k) => (k < 1000 ? k / 1000 : k / 1000 + 3).toFixed(2));
    const { end } = read(`time_s,current_nA\n${times.map((t) => `${t},5`).join('\n')}\n`);
    expect(end.gap_count).toBe(1);
    expect(end.gaps[0]!.length_s).toBeCloseTo(3, 1);
  });

  it('asks for the rate where too few steps were seen, and then takes it', () => {
    const text = `time_s,current_nA\n${rows(3000, 2000, 0)}\n`;
    expect(refusal(text)).toMatch(/invalid time column: "time_s" repeats each time .*--rate/);
    const { head, end } = read(text, { rate_Hz: 2000 });
    expect([head.rate_Hz, end.gap_count, end.samples]).toEqual([2000, 0, 3000]);
  });

  it('tells the rate of even times in any case', () => {
    expect(sampling(Float64Array.of(0, 1, 2, 3), 4)).toEqual({ rate_Hz: 1, printed_s: 0 });
    expect(sampling(Float64Array.of(5), 1).rate_Hz).toBeUndefined();
  });
});

describe('other habits', () => {
  it('tells far times from the first sample', () => {
    const { head } = read('time_s,current_nA\n1772400000.0,1\n1772400000.5,2\n1772400001.0,3\n');
    expect([head.start_s, head.rate_Hz]).toEqual([0, 2]);
    expect(head.notes.join()).toMatch(/stands at 1772400000 s/);
  });

  it.each([
    ['blank columns at the end', 'time_s,current_nA,,\n0,1,,\n1,2,,\n2,3,,\n'],
    ['a comment of every kind', '# a\n% b\n! c\n// d\n\ntime_s,current_nA\n0,1\n1,2\n# in between\n2,3\n'],
    ['words for units', 'Time (seconds),Current (Amps)\n0,1e-9\n1,2e-9\n2,3e-9\n'],
    ['a time in ms', 'Time [ms];I (nA)\n0;1,0\n1000;2,0\n2000;3,0\n'],
    ['turned columns', 'I (nA),t (s)\n1,0\n2,1\n3,2\n'],
    ['carriage returns alone', 'time_s,current_nA\r0,1\r1,2\r2,3\r'],
  ])('%s', (_, text) => {
    const { head, current_nA } = read(text);
    expect(head.rate_Hz).toBeCloseTo(1, 9);
    expect(current_nA.map((nA) => Number(nA.toPrecision(9)))).toEqual([1, 2, 3]);
  });

  it('reads the minus sign of typesetters', () => {
    expect(read('time_s,current_nA\n0,\u22121.5\n1,\u22122\n').current_nA.map((nA) => nA.toFixed(3))).toEqual(
      ['-1.500', '-2.000'],
    );
  });

  it('begins a new stretch where time runs backwards', () => {
    const { end, starts_s } = read('time_s,current_nA\n0,1\n1,2\n2,3\n0,4\n1,5\n');
    expect(end.warnings.join()).toMatch(/time runs backwards 1 times/);
    expect(starts_s).toEqual([0, 0]);
  });

  it.each([
    ['', /missing samples: the file is empty; expected a table/],
    ['\n \n', /invalid trace file: no text in it/],
    ['time_s,current_nA\n', /begins "time_s,current_nA" and has no row of numbers/],
    ['time_s,current_nA\n0,5\n', /missing samples: 1 row of numbers; expected at least two/],
    ['time,current\n0 s,5 nA\n1 s,6 nA\n', /line 2 "0 s,5 nA"; expected plain numbers in every cell/],
    [
      'time_s;current_pA\n0;1,234.5\n1;1,236.5\n',
      /line 2 "0;1,234.5"; expected .* no sign between thousands/,
    ],
    ['time_s,current_nA\n2,1\n1,2\n0,3\n', /invalid time column: "time_s" does not rise/],
  ])('refuses %j in one line', (text, line) => {
    const said = refusal(text);
    expect(said).toMatch(line);
    expect(said).not.toContain('\n');
  });
});
