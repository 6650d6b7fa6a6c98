import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTraceBytes, refusalOf } from '../../../test/kit/read-trace.ts';
import { rawSidecar, sidecarQuestions } from './raw-sidecar.ts';
import type { TraceOptions } from './trace-record.ts';

const read = (data: string | Uint8Array, options: TraceOptions = {}, chunk = 7) =>
  readTraceBytes(data, options, chunk);

const refusal = (data: string | Uint8Array, options: TraceOptions = {}) =>
  refusalOf(() => read(data, options));

/** Parsed decimals times a power of ten: one rounding each. */
const ROUNDING = 12;

describe('tables', () => {
  it.each([
    ['comma', 'time_s,current_nA\n0,10.5\n0.001,11.5\n0.002,12.5\n'],
    ['semicolon and decimal comma', 'time (s);current (nA)\r\n0;10,5\r\n0,001;11,5\r\n0,002;12,5\r\n'],
    ['tab', 't [ms]\tI [pA]\n0\t10500\n1\t11500\n2\t12500\n'],
    ['spaces', '  time (s)   current (nA)\n  0.000  10.5\n  0.001  11.5\n  0.002  12.5\n'],
    ['names above units', 'Time,Current\n(s),(nA)\n0,10.5\n0.001,11.5\n0.002,12.5\n'],
    ['a preamble', 'Logger X\nSerial;17\n\ntime_s;current_nA\n0;10.5\n0.001;11.5\n0.002;12.5\n'],
    [
      'quoted, with a byte order mark',
      '\ufeff"time_s","I (µA)"\n"0","0.0105"\n"0.001","0.0115"\n"0.002","0.0125"\n',
    ],
    ['heading in a comment', '# time_s, current_nA\n0, 10.5\n1e-3, 11.5\n2e-3, 12.5\n'],
  ])('%s', (_, text) => {
    const { head, current } = read(text);
    expect(head.rate_Hz).toBeCloseTo(1000, 6);
    expect(current.map((i) => i * 1e9)).toEqual([10.5, 11.5, 12.5].map((i) => expect.closeTo(i, ROUNDING)));
  });

  it('reads the voltage beside it, turned columns and other columns', () => {
    const { head, current, voltage } = read(
      'n,voltage_kV,I/nA,time_s\n1,1.5,10,0\n2,1.6,11,0.5\n3,1.7,12,1\n',
    );
    expect(head.channels.map((c) => c.quantity)).toEqual(['current', 'voltage']);
    expect(voltage).toEqual([1500, 1600, 1700]);
    expect(current[2]).toBeCloseTo(12e-9, 18);
    expect(head.rate_Hz).toBeCloseTo(2, 9);
  });

  it('asks where a comma may part cells or decimals, and takes the answer', () => {
    const text = '0,5\n0,6\n0,7\n';
    expect(refusal(text, { rate_Hz: 10 })).toMatch(/read in 2 ways; expected --delimiter .* or --delimiter /);
    const one = read(text, { rate_Hz: 10, decimal: 'comma', column: '1', unit: 'nA' });
    expect(one.current[0]).toBeCloseTo(0.5e-9, 18);
    const two = read(text, { rate_Hz: 10, delimiter: 'comma', column: '2', unit: 'nA' });
    expect(two.current[0]).toBeCloseTo(5e-9, 18);
  });

  it.each([
    ['time_s,current\n0,1\n1,2\n', {}, /missing unit of the current: "current" has none; expected .*--unit/],
    ['time_s,current (furlong)\n0,1\n1,2\n', {}, /unknown unit of the current: "furlong"/],
    ['time_s,temp_K\n0,1\n1,2\n', {}, /missing column of the current: .*"temp_K"/],
    [
      'time_s,a_nA,b_nA\n0,1,2\n1,2,3\n',
      {},
      /invalid column of the current: "a_nA" or "b_nA"; expected one of them with --column/,
    ],
    ['current_nA\n1\n2\n', {}, /missing time: .*--rate/],
    ['time,current_nA\n0,1\n1,2\n', {}, /missing unit of the time column.*--time-unit, or --rate/],
    ['time_s,current_mV\n0,1\n1,2\n', {}, /missing resistor: .*--resistor_MOhm/],
    ['time_s,current_nA\n0,1\n0,2\n', {}, /invalid time column: .* does not rise/],
    ['hello\nworld\n', {}, /invalid trace file: no table of numbers/],
    ['time_s,current_nA\n0,1\n1,2\n', { column: 'x' }, /unknown column for --column: x/],
  ] as [string, TraceOptions, RegExp][])('refuses %j with %j', (text, options, line) => {
    expect(refusal(text, options)).toMatch(line);
  });

  it('turns a voltage across a resistor into a current', () => {
    const { current, head } = read('time_s,current_mV\n0,940\n1,470\n', { resistor_MOhm: 4.7 });
    expect(current[0]).toBeCloseTo(200e-9, 18);
    expect(head.channels[0]!.unit).toBe('mV across 4.7 MOhm');
  });

  it('tells gaps, missing values and lines that cannot be read', () => {
    const rows = Array.from(
      { length: 20 },
      (_, k) => `${k < 10 ? k : k + 40},${k === 3 ? 'NaN' : k === 4 ? 'OVLD' : 5}`,
    );
    rows[15] = '55,garbage';
    const { end, current, gaps } = read(`time_ms,current_nA\n${rows.join('\n')}\n`);
    expect(end.gap_count).toBe(1);
    expect(gaps[0]).toBeCloseTo(0.04, 9);
    expect(end.gaps[0]!.at_s).toBeCloseTo(0.01, 9);
    expect(end.missing).toBe(3);
    expect(end.bad_lines).toBe(1);
    expect(end.first_bad_line).toEqual({ line: 17, text: '55,garbage' });
    expect(current.filter(Number.isNaN).length).toBe(3);
  });

  it('gives the same for any cut into chunks', () => {
    const text = `time_s;current_nA\n${Array.from({ length: 60 }, (_, k) => `${(k / 1000).toFixed(3)};${(k * 1.25).toFixed(2)}`).join('\r\n')}`;
    const whole = read(text, {}, 1e6).current;
    expect(whole.length).toBe(60);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 80 }), (chunk) => {
        expect(read(text, {}, chunk).current).toEqual(whole);
      }),
    );
  });

  it('reads any number that JavaScript writes', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, min: -1e30, max: 1e30 }), (value) => {
        const { current } = read(`time_s,current_A\n0,${value}\n1,1\n`);
        const reach = Math.abs(value) * 1e-14;
        expect(Math.abs(current[0]! - value)).toBeLessThanOrEqual(reach);
      }),
    );
  });

  it('says when a given rate and the time column disagree', () => {
    const { head, end } = read('time_s,current_nA\n0,1\n1,2\n2,3\n', { rate_Hz: 1000 });
    expect(head.rate_Hz).toBe(1000);
    expect(end.warnings.join()).toMatch(/check the unit of the time column/);
  });
});

type Put = (view: DataView, at: number, part: number) => void;

function wav(format: number, bits: number, parts: readonly number[], put: Put, channels = 1): Uint8Array {
  const bytes = bits / 8;
  const size = parts.length * bytes;
  const view = new DataView(new ArrayBuffer(44 + size));
  const write = (at: number, text: string) => {
    for (let i = 0; i < text.length; i++) view.setUint8(at + i, text.charCodeAt(i));
  };
  write(0, 'RIFF');
  view.setUint32(4, 36 + size, true);
  write(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, format, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, 96000, true);
  view.setUint16(32, channels * bytes, true);
  view.setUint16(34, bits, true);
  write(36, 'data');
  view.setUint32(40, size, true);
  for (const [k, part] of parts.entries()) put(view, 44 + k * bytes, part);
  return new Uint8Array(view.buffer);
}

const put8: Put = (v, at, x) => v.setUint8(at, 128 + x * 128);
const put16: Put = (v, at, x) => v.setInt16(at, x * 32768, true);
const put24: Put = (v, at, x) => {
  v.setUint16(at, (x * 8388608) & 0xffff, true);
  v.setInt8(at + 2, (x * 8388608) >> 16);
};
const put32: Put = (v, at, x) => v.setInt32(at, x * 2147483648, true);
const putFloat: Put = (v, at, x) => v.setFloat32(at, x, true);

describe('WAV', () => {
  const parts = [0.5, -0.25, 0.125];
  it.each([
    ['8 bit', wav(1, 8, parts, put8)],
    ['16 bit', wav(1, 16, parts, put16)],
    ['24 bit', wav(1, 24, parts, put24)],
    ['32 bit', wav(1, 32, parts, put32)],
    ['float', wav(3, 32, parts, putFloat)],
  ])('%s', (_, bytes) => {
    const { head, current } = read(bytes, { full_scale_nA: 1000 });
    expect(head.rate_Hz).toBe(96000);
    expect(current.map((i) => i * 1e9)).toEqual([500, -250, 125].map((i) => expect.closeTo(i, ROUNDING)));
  });

  it('asks for scale and channel, tells a file that was cut', () => {
    const two = wav(1, 16, [0, 0.5, 0, 0.25, 0, 0], put16, 2);
    expect(refusal(two)).toMatch(/missing scale of the WAV file.*--full-scale_nA/);
    expect(refusal(two, { full_scale_nA: 1 })).toMatch(/missing channel: 2 channels/);
    const cut = read(two.subarray(0, two.length - 3), { full_scale_nA: 1, column: '2' });
    expect(cut.current[0]).toBeCloseTo(0.5e-9, 18);
    expect(cut.end.cut_short).toMatch(/3 bytes fewer/);
  });
});

describe('raw samples', () => {
  it('by their sidecar', () => {
    const sidecar = rawSidecar({
      format: 'int16',
      rate_Hz: 1e5,
      header_bytes: 3,
      bandwidth_Hz: 2e4,
      channels: [
        { quantity: 'voltage', unit: 'V', scale: 1 },
        { quantity: 'current', unit: 'nA', scale: 0.01, offset: 1 },
      ],
    });
    const bytes = new Uint8Array(3 + 8);
    new DataView(bytes.buffer, 3).setInt16(0, 1500, true);
    new DataView(bytes.buffer, 3).setInt16(2, 4000, true);
    const { head, current, voltage } = read(bytes, { sidecar }, 2);
    expect(head.bandwidth_Hz).toBe(2e4);
    expect(voltage[0]).toBe(1500);
    expect(current[0]! * 1e9).toBeCloseTo(41, ROUNDING);
  });

  it('asks for the worth of a step where the sidecar gives the current none', () => {
    const bare = { format: 'int16', rate_Hz: 10, channels: [{ quantity: 'current', unit: 'nA' }] };
    expect(sidecarQuestions(bare, {})).toEqual([{ about: 'step', unit: 'nA' }]);
    expect(() => rawSidecar(bare)).toThrow(/missing sidecar.channels.0.scale.* or with --step/);
    expect(sidecarQuestions(bare, { raw_step: 0.5 })).toEqual([]);
    expect(rawSidecar(bare, 0.5).channels[0]!.scale).toBe(0.5);
  });

  it('names every fault of the sidecar', () => {
    expect(() =>
      rawSidecar({ format: 'int12', channels: [{ quantity: 'current', unit: 'kg' }], speed: 1 }),
    ).toThrow(
      /unknown sidecar.speed[\s\S]*invalid sidecar.format[\s\S]*missing sidecar.rate_Hz[\s\S]*channels.0.unit[\s\S]*channels.0.scale/,
    );
  });
});

it.each([
  ['\u0089HDF\r\n', /HDF5/],
  ['PK\u0003\u0004....', /spreadsheet/],
  ['<?xml version="1.0"?><mzML>', /steadycone read/],
  ['\u0000\u0001\u0002\u0003', /binary data without a sidecar/],
  ['', /empty/],
])('refuses %j by its name', (text, line) => {
  expect(refusal(Uint8Array.from([...text].map((c) => c.charCodeAt(0))))).toMatch(line);
});
