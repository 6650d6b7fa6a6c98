/** Arrays in zstd: read with a decoder, refused by name without one, never taken as something else. */
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { base64, cv, mzml, mzmlSpectrum, packed } from '../../test/data/made-runs.ts';
import { numpress } from '../../test/data/numpress.ts';
import { rawFrameBytes, shuffled, zstdFrame } from '../../test/data/zstd.ts';
import { runReader } from '../formats/run-reader.ts';
import type { Inflate } from '../formats/run-record.ts';
import { unzstd } from './inflate.ts';

const inflate: Inflate = (bytes, most) => inflateSync(bytes, { maxOutputLength: most });
const INTENSITIES = [5, 7, 11, 400, 0, 3];
const SUM = INTENSITIES.reduce((a, b) => a + b);
/** Logarithms in two bytes up to that of 400. */
const SLOF_POINT = 10_000;
/** Half a step of that, relative to the largest value. */
const SLOF_ERROR = 400 / SLOF_POINT;

const PACKINGS = [
  ['MS:1003780', 'plain', packed(INTENSITIES, 'float32'), 0],
  ['MS:1003781', 'byte-shuffled', shuffled(packed(INTENSITIES, 'float32'), 4), 0],
  ['MS:1003783', 'MS-Numpress linear', numpress('linear', INTENSITIES, 1), 0],
  ['MS:1003784', 'MS-Numpress pic', numpress('pic', INTENSITIES, 1), 0],
  ['MS:1003785', 'MS-Numpress slof', numpress('slof', INTENSITIES, SLOF_POINT), SLOF_ERROR],
] as const;

function read(accession: string, bytes: Uint8Array, decoder: Inflate | undefined) {
  const file = mzml([
    mzmlSpectrum({
      intensities: INTENSITIES,
      text: base64(bytes),
      arrayParams: cv('MS:1000515') + cv('MS:1000521') + cv(accession),
      params: cv('MS:1000285', '8'),
    }),
  ]);
  const reader = runReader({ inflate, unzstd: decoder });
  reader.push(new TextEncoder().encode(file));
  return reader.end();
}

const decoders: [string, Inflate][] = [['a decoder of raw frames', rawFrameBytes]];
if (unzstd !== undefined) decoders.push(["Node's own decoder", unzstd]);
const absent = unzstd === undefined ? " (Node's own decoder is absent here and NOT TESTED)" : '';

describe.each(decoders)(`with %s${absent}`, (_name, decoder) => {
  it.each(PACKINGS)('reads %s, %s', (accession, _kind, bytes, error) => {
    const run = read(accession, zstdFrame(bytes), decoder);
    expect(run.warnings).toEqual([]);
    expect(Math.abs(run.tic_summed[0]! - SUM)).toBeLessThanOrEqual(error);
  });

  it.each(PACKINGS)('tells damaged data of %s, %s', (accession, _kind, bytes) => {
    const frame = zstdFrame(bytes);
    for (const spoilt of [frame.subarray(0, frame.length - 3), frame.subarray(3)]) {
      const run = read(accession, spoilt, decoder);
      expect(run.warnings).toEqual([
        '1 intensity array with zstd data damaged or longer than declared; the sum is left empty (spectrum 1).',
      ]);
      expect(run.tic_summed[0]).toBeNaN();
    }
  });

  it('does not unpack more than declared', () => {
    const run = read('MS:1003780', zstdFrame(packed(Array(5000).fill(1), 'float32')), decoder);
    expect(run.warnings[0]).toContain('with zstd data damaged or longer than declared');
  });
});

describe('without a decoder', () => {
  it.each(PACKINGS)('refuses %s, %s, by name', (accession, _kind, bytes) => {
    const run = read(accession, zstdFrame(bytes), undefined);
    expect(run.warnings).toEqual([
      '1 intensity array in zstd compression, for which this machine has no decoder; the stated TIC is used (spectrum 1).',
    ]);
    expect(run.tic_summed[0]).toBeNaN();
    expect(run.tic_stated[0]).toBe(8);
  });
});

it('refuses dictionary-encoded zstd by name, with a decoder or without', () => {
  for (const decoder of [undefined, rawFrameBytes]) {
    expect(read('MS:1003782', zstdFrame(packed(INTENSITIES, 'float32')), decoder).warnings).toEqual([
      '1 intensity array in dictionary-encoded zstd compression, which is not read; the stated TIC is used (spectrum 1).',
    ]);
  }
});
