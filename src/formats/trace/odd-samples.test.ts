/** WAV files whose header is wrong, and sidecars with something missing: each gives a result that says so, or one line. */
import { describe, expect, it } from 'vitest';
import { readTraceBytes, refusalOf } from '../../../test/kit/read-trace.ts';
import { rawSidecar } from './raw-sidecar.ts';
import type { TraceOptions } from './trace-record.ts';

const SAMPLES = 200;
const DATA = 2 * SAMPLES;

interface Header {
  code?: number;
  bits?: number;
  rate?: number;
  /** Length of the samples that the header states. */
  stated?: number;
  /** Bytes behind the samples. */
  tail?: readonly number[];
}

function wav({ code = 1, bits = 16, rate = 1000, stated = DATA, tail = [] }: Header): Uint8Array {
  const bytes = new Uint8Array(44 + DATA + tail.length);
  const view = new DataView(bytes.buffer);
  [...'RIFF....WAVEfmt '].forEach((c, i) => {
    view.setUint8(i, c.charCodeAt(0));
  });
  view.setUint32(16, 16, true);
  view.setUint16(20, code, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint16(34, bits, true);
  [...'data'].forEach((c, i) => {
    view.setUint8(36 + i, c.charCodeAt(0));
  });
  view.setUint32(40, stated, true);
  for (let k = 0; k < SAMPLES; k++) view.setInt16(44 + 2 * k, k, true);
  bytes.set(tail, 44 + DATA);
  return bytes;
}

const read = (bytes: Uint8Array, options: TraceOptions, chunk: number) =>
  readTraceBytes(bytes, options, chunk).end;

const LIST = [...'LIST'].map((c) => c.charCodeAt(0)).concat([4, 0, 0, 0, 1, 2, 3, 4]);

describe('a WAV header', () => {
  it.each([
    ['right', {}, SAMPLES, '', ''],
    ['right, with a chunk behind', { tail: LIST }, SAMPLES, '', ''],
    ['too long', { stated: 2 * DATA }, SAMPLES, `${DATA} bytes fewer than its header states`, ''],
    ['too short', { stated: DATA / 2 }, SAMPLES / 2, '', `${DATA / 2} bytes stand behind the samples`],
    ['no length', { stated: 0 }, SAMPLES, '', ''],
    ['no length that fits', { stated: 0xffffffff }, SAMPLES, '', ''],
    ['no length, an odd byte', { stated: 0, tail: [7] }, SAMPLES, 'the last 1 byte is no whole sample', ''],
  ] as [string, Header, number, string, string][])('%s', (_, header, samples, cut, warning) => {
    for (const chunk of [5, 4096]) {
      const end = read(wav(header), { full_scale_nA: 1 }, chunk);
      expect(end.samples).toBe(samples);
      expect(end.cut_short ?? '').toBe(cut);
      expect(end.warnings.join()).toMatch(warning === '' ? /^$/ : new RegExp(warning));
    }
  });

  it.each([
    ['another code', wav({ code: 7, bits: 8 }), /invalid WAV format: code 7, 8 bits/],
    ['12 bits', wav({ bits: 12 }), /invalid WAV format: code 1, 12 bits/],
    ['no rate', wav({ rate: 0 }), /invalid WAV format: .*0 per second/],
    ['no samples', wav({}).subarray(0, 44), /missing samples: 0 samples; expected at least 2/],
    ['half a header', wav({}).subarray(0, 30), /invalid WAV file: it ends before its samples/],
  ])('is refused in one line: %s', (_, bytes, line) => {
    const said = refusalOf(() => read(bytes, { full_scale_nA: 1 }, 4096));
    expect(said).toMatch(line);
    expect(said).not.toContain('\n');
  });
});

describe('a sidecar', () => {
  const channel = { quantity: 'current', unit: 'nA', scale: 0.01 };
  const good = { format: 'int16', rate_Hz: 2000, channels: [channel] };
  const without = (document: object, key: string) =>
    Object.fromEntries(Object.entries(document).filter(([name]) => name !== key));

  it.each([
    ['no object', [1, 2], /invalid sidecar: \[1,2\]; expected an object/],
    ['nothing', null, /invalid sidecar: null; expected an object/],
    ['no format', without(good, 'format'), /missing sidecar.format/],
    ['no rate', without(good, 'rate_Hz'), /missing sidecar.rate_Hz/],
    ['no channels', without(good, 'channels'), /missing sidecar.channels/],
    [
      'no quantity',
      { ...good, channels: [without(channel, 'quantity')] },
      /missing sidecar.channels.0.quantity/,
    ],
    ['no unit', { ...good, channels: [without(channel, 'unit')] }, /missing sidecar.channels.0.unit/],
    ['no scale', { ...good, channels: [without(channel, 'scale')] }, /missing sidecar.channels.0.scale/],
    ['no current', { ...good, channels: [{ ...channel, quantity: 'other' }] }, /none is the current/],
    [
      'an offset in words',
      { ...good, channels: [{ ...channel, offset: 'x' }] },
      /sidecar.channels.0.offset: "x"/,
    ],
    ['the other end first', { ...good, format: 'int16be' }, /invalid sidecar.format: "int16be"/],
  ])('with %s is refused in one line', (_, document, line) => {
    const said = refusalOf(() => rawSidecar(document));
    expect(said).toMatch(line);
    expect(said).not.toContain('\n');
  });

  it.each([
    ['an empty file', {}, 0, /missing samples: 0 samples; expected at least 2/],
    ['one sample', {}, 2, /missing samples: 1 sample;/],
    ['a header longer than the file', { header_bytes: 1000 }, 20, /0 samples behind 1000 header bytes/],
  ])('beside %s', (_, more, bytes, line) => {
    const sidecar = rawSidecar({ ...good, ...more });
    expect(refusalOf(() => read(new Uint8Array(bytes), { sidecar }, 4096))).toMatch(line);
  });
});
