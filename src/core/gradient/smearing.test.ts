import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/within.ts';
import { randomStream } from '../random.ts';
import { NL_MIN } from '../units.ts';
import { bedArrival, mixerArrival, SOLVENT_DIFFUSION, taylorArisVariance, tubeArrival } from './smearing.ts';

const FLOW = 300 * NL_MIN;
const BORE = 20e-6;
const LENGTH = 0.3;
const VOLUME = Math.PI * (BORE / 2) ** 2 * LENGTH;
const EXACT = { relative: 1e-9, reason: 'closed form against closed form' };
/** 1,000 particles scatter a variance by 4.5 %; three of these. The start-up of the profile takes another 3 % at T = 2. */
const WALKERS = { relative: 0.16, reason: 'random walk of 1,000 particles' };

describe('a piece between pump and tip', () => {
  it('delays by its volume over the flow, whatever it is', () => {
    const seconds = VOLUME / FLOW;
    expectWithin(mixerArrival(VOLUME, FLOW).mean, seconds, EXACT);
    expectWithin(tubeArrival(VOLUME, BORE, LENGTH, FLOW).mean, seconds, EXACT);
    expectWithin(bedArrival(VOLUME, FLOW, 0.25, 2e-6).mean, seconds, EXACT);
    expectWithin(seconds, 18.85, { relative: 1e-3, reason: 'the worked number of the header' });
  });

  it('smears in a tube as Taylor and Aris: both limits and the worked number', () => {
    const mean = VOLUME / FLOW;
    const D = 1.5e-9;
    const fast = taylorArisVariance(mean, BORE, LENGTH, D);
    expectWithin(fast, (BORE / 2) ** 2 / (24 * D * mean), {
      relative: 5e-3,
      reason: 'the reference leaves out diffusion along the axis, 48/Pe² = 0.43 % at Pe 106',
    });
    const still = taylorArisVariance(1e6, BORE, LENGTH, D);
    expectWithin(still, (2 * D * 1e6) / LENGTH ** 2, {
      relative: 1e-3,
      reason: 'the convective term left out',
    });
    const tube = tubeArrival(VOLUME, BORE, LENGTH, FLOW);
    expect(tube.valid).toBe(true);
    expectWithin(tube.sd.middle, 0.229, { relative: 5e-3, reason: 'worked number, three figures' });
    expect(tube.sd.low).toBeLessThan(tube.sd.middle);
    expect(tube.sd.high).toBeGreaterThan(tube.sd.middle);
  });

  it('agrees with particles walking at random in a Poiseuille profile', () => {
    const [peclet, until, steps, particles] = [100, 2, 1000, 1000];
    const dt = until / steps;
    const random = randomStream(11, 'taylor-aris');
    let sum = 0;
    let squares = 0;
    for (let p = 0; p < particles; p++) {
      const r0 = Math.sqrt(random.unit());
      let [x, y, z] = [r0, 0, 0];
      for (let k = 0; k < steps; k++) {
        z += 2 * peclet * (1 - x * x - y * y) * dt;
        const [nx, ny] = [x + Math.sqrt(2 * dt) * random.normal(), y + Math.sqrt(2 * dt) * random.normal()];
        const r = Math.hypot(nx, ny);
        const back = r > 1 ? Math.max(0, 2 - r) / r : 1; // reflected at the wall
        [x, y] = [nx * back, ny * back];
      }
      sum += z;
      squares += z * z;
    }
    const mean = sum / particles;
    const share = (squares / particles - mean * mean) / mean ** 2;
    expectWithin(mean, peclet * until, { relative: 0.02, reason: 'mean velocity, same walk' });
    // In lengths of the radius and times of a²/D: bore 2, diffusion 1.
    expectWithin(share, taylorArisVariance(until, 2, peclet * until, 1), WALKERS);
  });

  it('says where diffusion has not crossed the bore, and caps the smearing', () => {
    const wide = tubeArrival(Math.PI * 250e-6 ** 2 * 0.01, 500e-6, 0.01, 1000 * FLOW);
    expect(wide.valid).toBe(false);
    expect(wide.note).toMatch(/order of magnitude/);
    expect(wide.sd.high).toBe(wide.mean / 2);
    expect(wide.sd.middle).toBeLessThanOrEqual(wide.mean / 2);
    expect((SOLVENT_DIFFUSION.middle * wide.mean) / 250e-6 ** 2).toBeLessThan(1);
  });

  it('smears in a bed by h dp/L, as a mixer by its own delay', () => {
    const bed = bedArrival(VOLUME, FLOW, 0.25, 2e-6);
    expectWithin((bed.sd.middle / bed.mean) ** 2, (3 * 2e-6) / 0.25, EXACT);
    expectWithin((bed.sd.high / bed.sd.low) ** 2, 3, EXACT);
    expect(mixerArrival(VOLUME, FLOW).sd.middle).toBe(VOLUME / FLOW);
  });
});
