import { expect, it } from 'vitest';
import { BOX, hiddenSource, type Kind, START } from '../../../bench/settle/source.ts';
import { advise, type Decision } from './advise.ts';
import { chanceWithin } from './chance.ts';
import { costOf, type SettleSession } from './index.ts';
import type { Ledger } from './ledger.ts';

const MOST_READINGS = 100;

/** Follows the advice to its own end: the chance after six readings and at the end, and the true share there. */
function ended(kind: Kind, seed: number): { early: number; said: number; share: number; readings: number } {
  const source = hiddenSource(kind, seed);
  const session: SettleSession = {
    seed: 1,
    polarity: 'positive',
    start: START,
    axes: { ...BOX },
    reads: 'typed',
    matters: 'level',
    supply_limit_V: 5000,
    readings: [],
  };
  const chanceOf = (decision: Decision) => chanceWithin(session, decision);
  let before: Ledger | undefined;
  let [time, from, early] = [0, START, Number.NaN];
  for (let n = 0; n < MOST_READINGS; n++) {
    const decision = advise(session, { before });
    before = decision.ledger;
    if (n === 6) early = chanceOf(decision);
    if (decision.kind === 'done')
      return { early, said: chanceOf(decision), share: source.share(decision.best, time, true), readings: n };
    time += costOf(from, decision.to);
    from = decision.to;
    session.readings.push({ time_s: time, at: decision.to, ...source.read(decision.to, time, true) });
  }
  throw new Error('the search did not end');
}

it('says a low chance early and a high one at the end of a source it understands', () => {
  const { early, said, share } = ended('matched', 1002);
  expect(early).toBeLessThan(0.5);
  expect(said).toBeGreaterThan(0.8);
  expect(share).toBeGreaterThan(0.95);
});

it('says a fair chance where the source is skewed, since the smooth part tells what the mean does not', () => {
  const { said, share } = ended('skewed', 1001);
  expect(said).toBeGreaterThan(0.6);
  expect(share).toBeGreaterThan(0.9);
});

it('looks for a second patch before it ends where its mean does not fit', () => {
  // Without the six places about the best point this source ended on the lesser patch, at 0.73 of the best.
  const { share } = ended('double ridge', 1000);
  expect(share).toBeGreaterThan(0.95);
});
