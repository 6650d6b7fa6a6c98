import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/within.ts';
import type { GradientSpec, GradientVolume } from '../setup.ts';
import { tipComposition } from './tip-composition.ts';
import { tipDelay } from './tip-delay.ts';

const PIECES: GradientVolume[] = [
  { name: 'mixer', kind: 'mixer', volume_nL: 600 },
  { name: 'second mixer', kind: 'mixer', volume_nL: 150 },
  { name: 'line', kind: 'tube', bore_um: 50, length_mm: 400 },
  { name: 'bed', kind: 'packed bed', bore_um: 75, length_mm: 250, open_fraction: 0.7, particle_um: 50 },
];
const FLOW = 300;
/** The mixers' grid is 1/4,000 of the run, 0.02 min; the step is smeared over 0.001 min. */
const GRID = { relative: 2e-3, reason: 'grid of the mixers and of the sum' };

function gradient(rows: [number, number][]): GradientSpec {
  return {
    bottle_A_organic_percent: 0,
    bottle_B_organic_percent: 100,
    organic: 'acetonitrile',
    table: rows.map(([time_min, percent_B]) => ({ time_min, percent_B })),
  };
}

describe('composition at the tip', () => {
  it('is the table itself without volumes, mixed from both bottles', () => {
    const spec = {
      ...gradient([
        [0, 0],
        [10, 50],
        [20, 50],
      ]),
      bottle_A_organic_percent: 2,
      bottle_B_organic_percent: 80,
    };
    const at = tipComposition(spec, null, 20);
    expect(at(-5)).toBeCloseTo(2, 9);
    expect(at(5)).toBeCloseTo(2 + 78 * 0.25, 9);
    expect(at(15)).toBeCloseTo(41, 9);
    expect(at(50)).toBeCloseTo(41, 9);
  });

  it('lags a long ramp by the summed delay, whatever the smearing', () => {
    const delay = tipDelay(PIECES, FLOW);
    const at = tipComposition(
      gradient([
        [0, 0],
        [100, 100],
      ]),
      delay,
      120,
    );
    expectWithin(60 - at(60), delay.delay_min, GRID);
    expect(delay.delay_min).toBeGreaterThan(6);
  });

  it('follows one mixer exactly: c = t − τ + τ exp(−t/τ)', () => {
    const delay = tipDelay([{ name: 'mixer', kind: 'mixer', volume_nL: 600 }], FLOW);
    const at = tipComposition(
      gradient([
        [0, 0],
        [40, 40],
      ]),
      delay,
      40,
    );
    for (const t of [0.5, 1, 2, 5]) expectWithin(at(t), t - 2 + 2 * Math.exp(-t / 2), GRID);
  });

  it('keeps the first two moments of a step: delays and variances of the pieces add', () => {
    const delay = tipDelay(PIECES, FLOW);
    const at = tipComposition(
      gradient([
        [10, 0],
        [10.001, 100],
      ]),
      delay,
      90,
    );
    let [mean, square] = [0, 0];
    const dt = 0.005;
    for (let t = 0; t < 90; t += dt) {
      const arrives = (at(t + dt) - at(t)) / 100;
      const when = t + dt / 2 - 10;
      mean += arrives * when;
      square += arrives * when * when;
    }
    expectWithin(at(90), 100, { relative: 1e-6, reason: 'everything has arrived' });
    expectWithin(mean, delay.delay_min, GRID);
    expectWithin(Math.sqrt(square - mean * mean), delay.smearing_min, GRID);
    const parts = delay.pieces.reduce((sum, piece) => sum + piece.smearing_min ** 2, 0);
    expectWithin(delay.smearing_min ** 2, parts, { relative: 1e-12, reason: 'the same sum' });
  });

  it('spreads a step in a bed as the normal distribution', () => {
    const delay = tipDelay([PIECES[3]!], FLOW);
    const at = tipComposition(
      gradient([
        [10, 0],
        [10.0001, 100],
      ]),
      delay,
      40,
    );
    const front = 10.00005 + delay.delay_min;
    for (const [z, below] of [
      [-2, 2.275],
      [-1, 15.8655],
      [0, 50],
      [1, 84.1345],
      [2, 97.725],
    ] as const)
      expectWithin(at(front + z * delay.smearing_min), below, {
        relative: 1e-4,
        reason: 'tabled Φ to six figures; the step is 0.0001 min wide',
      });
  });

  it('takes volume from bore, length and open share; the delay from it and the flow', () => {
    const [bed] = tipDelay([PIECES[3]!], FLOW).pieces;
    expectWithin(bed!.volume_nL, 773.1, {
      relative: 1e-4,
      reason: 'π 37.5² µm² · 250 mm · 0.7, four figures',
    });
    expectWithin(bed!.delay_min, 773.1 / 300, { relative: 1e-4, reason: 'same' });
    expectWithin(tipDelay(PIECES, FLOW / 2).delay_min, 2 * tipDelay(PIECES, FLOW).delay_min, GRID);
  });

  it('says when only the volume of a tube is given', () => {
    const [tube] = tipDelay([{ name: 'line', kind: 'tube', volume_nL: 300 }], FLOW).pieces;
    expect(tube).toMatchObject({ smearing_min: 0, valid: false });
    expectWithin(tube!.delay_min, 1, GRID);
    expectWithin(tube!.smearing_high_min, 0.5, GRID);
  });
});
