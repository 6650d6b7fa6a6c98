import fc from 'fast-check';
import { expect, it } from 'vitest';
import { HeldBytes } from './held-bytes.ts';

it('joins what was left to what comes, in any pieces, while the pieces themselves are written over', () => {
  const steps = fc.array(fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 100 })), {
    minLength: 1,
    maxLength: 60,
  });
  fc.assert(
    fc.property(steps, (moves) => {
      const held = new HeldBytes();
      const used: number[] = [];
      const piece = new Uint8Array(50);
      let given = 0;
      for (const [length, share] of moves) {
        for (let i = 0; i < length; i += 1) piece[i] = given++ % 251;
        const bytes = held.join(piece.subarray(0, length));
        const from = Math.floor((bytes.length * share) / 100);
        used.push(...bytes.subarray(0, from));
        held.keep(bytes, from);
        expect(used.length + held.length).toBe(given);
        piece.fill(0);
      }
      used.push(...held.join(new Uint8Array(0)));
      expect(used).toEqual(Array.from({ length: given }, (_, i) => i % 251));
    }),
  );
});
