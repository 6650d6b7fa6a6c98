import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomStream } from '../core/random.ts';
import { gunzipInto, type Unpacker } from './gunzip.ts';

const RUNS = 60;
/** Share of the packed bytes whose text may be lost at a fault, and the shortest stretch. */
const LOST_SHARE = 1 / 64;
const LOST_BYTES = 256;

async function unpacked(bytes: Uint8Array, pieceBytes: number) {
  const parts: Uint8Array[] = [];
  const unpacker: Unpacker = gunzipInto((piece) => {
    parts.push(piece.slice());
    return true;
  });
  for (let at = 0; at < bytes.length; at += pieceBytes)
    await unpacker.push(bytes.subarray(at, at + pieceBytes));
  const failure = await unpacker.end();
  unpacker.close();
  return { text: Buffer.concat(parts), failure, surplusFrom: unpacker.surplusFrom };
}

const draw = randomStream(5, 'text');
const text = Buffer.from(Array.from({ length: 60_000 }, () => 33 + draw.index(90)));

describe('gzip', () => {
  it('gives all of any members, cut into pieces anywhere, with zeros behind them', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.nat(text.length), { maxLength: 12 }),
        fc.integer({ min: 60, max: 70_000 }),
        fc.nat(600),
        async (cuts, pieceBytes, zeros) => {
          const places = [0, ...cuts.sort((a, b) => a - b), text.length];
          const members = places.slice(1).map((end, k) => gzipSync(text.subarray(places[k]!, end)));
          const read = await unpacked(Buffer.concat([...members, Buffer.alloc(zeros)]), pieceBytes);
          expect(read.text.equals(text)).toBe(true);
          expect(read.failure).toBeUndefined();
          expect(read.surplusFrom).toBeUndefined();
        },
      ),
      { numRuns: RUNS, seed: 11 },
    );
  });

  it('gives all members when each piece ends with one', async () => {
    const members = [0, 20_000, 40_000].map((from) => gzipSync(text.subarray(from, from + 20_000)));
    const parts: Uint8Array[] = [];
    const unpacker = gunzipInto((piece) => parts.push(piece.slice()) > 0);
    for (const member of members) await unpacker.push(member);
    expect(await unpacker.end()).toBeUndefined();
    expect(Buffer.concat(parts).equals(text)).toBe(true);
  });

  it('keeps what stood before damage or foreign bytes but for one slice, and says which it was', async () => {
    const packed = gzipSync(text);
    const behind = Buffer.concat([packed, Buffer.from('something else')]);
    const sum = Buffer.from(packed);
    sum[sum.length - 6]! ^= 1;
    const damaged = Buffer.from(packed);
    const at = Math.floor(0.7 * packed.length);
    damaged.fill(0xff, at, at + 64);
    for (const pieceBytes of [100, 5000, 1 << 20]) {
      const least = (share: number, read: { text: Buffer }) =>
        expect(read.text.length).toBeGreaterThan(
          text.length * (share - LOST_SHARE - (2 * LOST_BYTES) / packed.length),
        );
      const more = await unpacked(behind, pieceBytes);
      expect(more.failure).toBeUndefined();
      expect(more.surplusFrom).toBeLessThanOrEqual(packed.length);
      expect(more.surplusFrom).toBeGreaterThan(packed.length * (1 - LOST_SHARE) - 2 * LOST_BYTES);
      least(1, more);
      expect(text.subarray(0, more.text.length).equals(more.text)).toBe(true);

      const wrong = await unpacked(sum, pieceBytes);
      expect(wrong.failure).toMatch(/do not fit their checksum/);
      least(1, wrong);

      const broken = await unpacked(damaged, pieceBytes);
      // Damage that still unpacks shows in the checksum only.
      expect(broken.failure).toMatch(/^the gzip data (are damaged|do not fit their checksum)/);
      least(0.7, broken);
      const good = Math.floor(text.length * 0.69);
      expect(broken.text.subarray(0, good).equals(text.subarray(0, good))).toBe(true);
    }
  });

  it('tells foreign bytes that come in a later piece, and stops when no more is wanted', async () => {
    const packed = gzipSync(text);
    const read = await unpacked(
      Buffer.concat([packed, Buffer.alloc(9), Buffer.from('x')]),
      packed.length + 2,
    );
    expect(read.text.equals(text)).toBe(true);
    expect(read.surplusFrom).toBeGreaterThanOrEqual(packed.length);
    let met = 0;
    const unpacker = gunzipInto(() => {
      met += 1;
      return false;
    });
    await unpacker.push(packed);
    expect(await unpacker.end()).toBeUndefined();
    expect(met).toBe(1);
    unpacker.close();
  });
});
