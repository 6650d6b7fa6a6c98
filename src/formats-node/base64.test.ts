import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decodeInto } from '../formats/base64.ts';
import { decodeBase64 } from './base64.ts';

const RUNS = 3000;

it('gives what the strict decoder gives, for base64 and for anything near it', () => {
  let refused = 0;
  let taken = 0;
  const near = fc
    .tuple(
      fc.uint8Array({ maxLength: 40 }),
      fc.nat(60),
      fc.constantFrom('', '-', '_', '=', '==', ' ', '\n', '!', 'A', '\u00e9', '\0'),
      fc.integer({ min: 0, max: 2 }),
    )
    .map(([bytes, at, put, drop]) => {
      const text = Buffer.from(bytes).toString('base64');
      const place = at % (text.length + 1);
      return text.slice(0, place) + put + text.slice(place + drop);
    });
  fc.assert(
    fc.property(near, (text) => {
      const bytes = Uint8Array.from(Buffer.from(text, 'latin1'));
      const [ours, strict] = [new Uint8Array(64), new Uint8Array(64)];
      const written = decodeBase64(bytes, bytes.length, ours);
      expect(written).toBe(decodeInto(bytes, bytes.length, strict));
      if (written < 0) {
        refused += 1;
        return;
      }
      taken += 1;
      expect(ours.subarray(0, written)).toEqual(strict.subarray(0, written));
    }),
    { numRuns: RUNS, seed: 64 },
  );
  expect(refused).toBeGreaterThan(RUNS / 10);
  expect(taken).toBeGreaterThan(RUNS / 10);
});
