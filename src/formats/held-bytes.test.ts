import fc from 'fast-check';
import { expect, it } from 'vitest';
import { HeldBytes } from './held-bytes.ts';

const ROOM = 30;

it.each([0, ROOM])(
  'joins what was left to what comes, in any pieces, written over afterwards, %i bytes of room before each',
  (room) => {
    const steps = fc.array(fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 100 })), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(steps, (moves) => {
        const held = new HeldBytes();
        const used: number[] = [];
        const buffer = new Uint8Array(ROOM + 50);
        const piece = buffer.subarray(ROOM);
        let given = 0;
        for (const [length, share] of moves) {
          for (let i = 0; i < length; i += 1) piece[i] = given++ % 251;
          const bytes = held.join(piece.subarray(0, length), room);
          const from = Math.floor((bytes.length * share) / 100);
          used.push(...bytes.subarray(0, from));
          held.keep(bytes, from);
          expect(used.length + held.length).toBe(given);
          buffer.fill(0);
        }
        used.push(...held.join(new Uint8Array(0)));
        expect(used).toEqual(Array.from({ length: given }, (_, i) => i % 251));
      }),
    );
  },
);
