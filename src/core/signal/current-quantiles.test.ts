import { expect, it } from 'vitest';
import { quantile } from '../numeric/robust.ts';
import { randomStream } from '../random.ts';
import { quantileFinder } from './current-quantiles.ts';

/** One of 2048 bins over about eight standard deviations, and the steps of the order statistics. */
const BIN = 0.01;

it.each(['plain', 'one spike a thousand times higher', 'constant'])('agrees with sorting: %s', (kind) => {
  const random = randomStream(4, kind);
  const x = Float64Array.from({ length: 20_000 }, () => (kind === 'constant' ? 3 : random.normal()));
  if (kind.startsWith('one')) x[77] = 5000;
  const low = x.reduce((a, b) => Math.min(a, b));
  const high = x.reduce((a, b) => Math.max(a, b));
  const q = quantileFinder().find(x, x.length, low, high);
  const shares = [
    [q.q05, 0.05],
    [q.q25, 0.25],
    [q.q50, 0.5],
    [q.q75, 0.75],
    [q.q95, 0.95],
  ] as const;
  for (const [found, share] of shares) expect(Math.abs(found - quantile(x, share))).toBeLessThan(BIN);
});
