import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numpress } from '../../test/data/numpress.ts';
import { numpressValues } from './numpress.ts';

const MANY = 1e6;
/** Half of the last place that the fixed point keeps. */
const LINEAR_PLACE = 0.5000001;

describe('MS-Numpress', () => {
  it('reads whole numbers worked out by hand: 0, 1, 2, 255 are 87 17 26 ff', () => {
    const bytes = Uint8Array.from([0x87, 0x17, 0x26, 0xff]);
    expect([...numpressValues('pic', bytes, MANY)!]).toEqual([0, 1, 2, 255]);
    expect(numpress('pic', [0, 1, 2, 255], 1)).toEqual(bytes);
  });

  it('reads a line and a step worked out by hand: 1, 2, 3, 3 at scale 1', () => {
    // Scale 1.0 big-endian, 1 and 2 little-endian, differences 0 (half byte 8) and -1 (head f, then f).
    const bytes = Uint8Array.from([0x3f, 0xf0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0, 0x8f, 0xf0]);
    expect([...numpressValues('linear', bytes, MANY)!]).toEqual([1, 2, 3, 3]);
  });

  it('keeps m/z to half the fixed point, any rising or jumping list', () => {
    // Differences to the straight line reach four times the largest value and must fit 32 bits.
    const scale = 2 ** 31 / 10_000;
    fc.assert(
      fc.property(fc.array(fc.double({ min: 50, max: 2000, noNaN: true }), { maxLength: 60 }), (values) => {
        const read = numpressValues('linear', numpress('linear', values, scale), MANY)!;
        expect(read).toHaveLength(values.length);
        values.forEach((value, k) => {
          expect(Math.abs(read[k]! - value)).toBeLessThanOrEqual(LINEAR_PLACE / scale);
        });
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('keeps counts exactly and logarithms to a part in 5000', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 0x7fffffff }), { maxLength: 60 }), (values) => {
        expect([...numpressValues('pic', numpress('pic', values, 1), MANY)!]).toEqual(values);
        const scale = 65535 / Math.log1p(0x7fffffff);
        const logs = numpressValues('slof', numpress('slof', values, scale), MANY)!;
        values.forEach((value, k) => {
          expect(Math.abs(Math.log1p(logs[k]!) - Math.log1p(value))).toBeLessThan(0.5001 / scale);
        });
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  it('refuses what is no such array, never with a crash', () => {
    const zeros = new Uint8Array(16);
    expect(numpressValues('linear', zeros, MANY)).toBeUndefined();
    expect(numpressValues('slof', zeros.subarray(0, 7), MANY)).toBeUndefined();
    expect(numpressValues('pic', Uint8Array.from([0x01]), MANY)).toBeUndefined();
    expect(numpressValues('pic', new Uint8Array(1000).fill(0x88), 10)).toBeUndefined();
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 80 }),
        fc.constantFrom('linear', 'pic', 'slof'),
        (bytes, kind) => {
          const values = numpressValues(kind as 'linear', bytes, 50);
          if (values) {
            expect(values.length).toBeLessThanOrEqual(50);
            expect(values.every(Number.isFinite)).toBe(true);
          }
        },
      ),
      { seed: 5, numRuns: 500 },
    );
  });
});
