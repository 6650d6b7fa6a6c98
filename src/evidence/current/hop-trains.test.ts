import { describe, expect, it } from 'vitest';
import { type Bare, dripping, hopping, madeTrace, statisticsOf } from '../../../test/kit/made-traces.ts';
import { dropTrains } from './drop-trains.ts';
import { hopTrains } from './hop-trains.ts';
import { levelChanges } from './level-changes.ts';
import { rhythmOf } from './rhythm.ts';
import { slowLevel } from './slow-level.ts';

const NA = 1e-9;
const RATE = 2e4;

function slowOf(bare: Bare, seed: number, mains?: { frequency_Hz: number; amplitude: number }) {
  const made = madeTrace(bare, { rate_Hz: RATE, length_s: 5, seed, ...(mains ? { mains } : {}) });
  const stats = statisticsOf(made, RATE);
  return { stats, slow: slowLevel(stats.slow, stats.windows, RATE, stats.extremes.step) };
}

/** A jet that falls to a lower level of another height each time. */
const visits: Bare = (random, samples, rate) => {
  let edge = 0;
  let stands = false;
  let level = 0;
  for (let k = 0; k < samples.length; k++) {
    if (k >= edge) {
      stands = !stands;
      edge = k + rate * 0.05 * random.between(0.5, 1.5);
      level = stands ? 100 * NA : 70 * NA * (1 + 0.1 * random.normal());
    }
    samples[k] = level;
  }
};

describe('changes of the level', () => {
  it.each([1, 2, 3])('by the square root between %d and one more are jets', (jets) => {
    const [train] = hopTrains(levelChanges(slowOf(hopping(80 * NA, jets, 0.06), 5).slow));
    expect(train!.changes).toBeGreaterThan(40);
    expect(train!.jets).toBeGreaterThan(0.9);
  });

  it('to a lower level that is never the same are one unsteady jet', () => {
    for (const seed of [3, 4, 5, 6]) {
      const [train] = hopTrains(levelChanges(slowOf(visits, seed).slow));
      expect(train!.changes).toBeGreaterThan(40);
      expect(train!.jets).toBeLessThan(0.1);
    }
  });

  it('are told through mains, which is taken out', () => {
    const { slow } = slowOf(hopping(80 * NA, 1, 0.06), 5, { frequency_Hz: 50, amplitude: 6 * NA });
    expect(hopTrains(levelChanges(slow))[0]!.jets).toBeGreaterThan(0.8);
  });

  it('are told on the swing of a pump, which moves both sides of a change alike', () => {
    for (const seed of [5, 6, 7]) {
      const hops = hopping(80 * NA, 1, 0.1);
      const swung: Bare = (random, x, rate) => {
        hops(random, x, rate);
        for (let k = 0; k < x.length; k++) x[k] = x[k]! + 6 * NA * Math.sin((2 * Math.PI * 2.5 * k) / rate);
      };
      expect(hopTrains(levelChanges(slowOf(swung, seed).slow))[0]!.jets).toBeGreaterThan(0.8);
    }
  });

  it('end where another regime begins at levels of its own', () => {
    const hops = hopping(80 * NA, 3, 0.06);
    const then: Bare = (random, x, rate) => {
      hops(random, x, rate);
      const past = x.subarray(x.length >> 1);
      visits(random, past, rate);
      for (let k = 0; k < past.length; k++) past[k] = 125 * NA + past[k]!;
    };
    const [first, second] = hopTrains(levelChanges(slowOf(then, 5).slow));
    expect(first!.to_s).toBeLessThan(3);
    expect(first!.jets).toBeGreaterThan(0.9);
    expect(second!.jets).toBeLessThan(0.3);
  });

  it('a pump makes a rhythm, jets that come and go make none', () => {
    const pump: Bare = (_, x, rate) => {
      for (let k = 0; k < x.length; k++) x[k] = 100 * NA * (1 + 0.1 * Math.sin((2 * Math.PI * 2 * k) / rate));
    };
    expect(rhythmOf(slowOf(pump, 1).slow)!.share).toBeGreaterThan(0.95);
    expect(rhythmOf(slowOf(hopping(80 * NA, 1, 0.3), 1).slow)!.share).toBeLessThan(0.92);
  });
});

describe('drops', () => {
  it('are found between many empty windows, short as they are for a fast meter', () => {
    const { stats, slow } = slowOf(dripping(3, 0.03 * NA, 0.00005), 7);
    const trains = dropTrains(slow, stats);
    expect(trains.length).toBeGreaterThan(0);
    expect(Math.max(...trains.map((t) => t.drops))).toBeGreaterThan(10);
  });

  it('are not found in noise', () => {
    const { stats, slow } = slowOf((_, x) => x.fill(0), 8);
    expect(dropTrains(slow, stats)).toEqual([]);
  });
});
