import { describe, expect, it } from 'vitest';
import { InputError } from '../core/errors.ts';
import { setupFrom } from './setup.ts';

const gradient = {
  table: [
    { time_min: 0, percent_B: 3 },
    { time_min: 60, percent_B: 40 },
  ],
};

function withGradient(change: object): unknown {
  return {
    emitter: { bore_um: 10, rim_um: 20 },
    liquid: { acetonitrile_percent: 25, additive: 'formic acid', additive_percent: 0.1 },
    feed: { kind: 'pumped', flow_nL_min: 300 },
    inlet: { distance_mm: 2.5 },
    gradient: { ...gradient, ...change },
  };
}

function linesOf(document: unknown): string[] {
  try {
    setupFrom(document);
  } catch (error) {
    if (error instanceof InputError) return error.message.split('\n');
    throw error;
  }
  return [];
}

describe('volumes and elution of a gradient', () => {
  it('takes a volume, or bore and length, and leaves both out', () => {
    const volumes = [
      { name: 'mixer', kind: 'mixer', volume_nL: 500 },
      { name: 'line', bore_um: 20, length_mm: 550 },
      {
        name: 'column',
        kind: 'packed bed',
        bore_um: 75,
        length_mm: 250,
        open_fraction: 0.65,
        particle_um: 1.9,
      },
    ];
    const setup = setupFrom(withGradient({ volumes, elution: { start_min: 5, end_min: 60 } }));
    expect(setup.gradient?.volumes?.[1]).toEqual({ name: 'line', kind: 'tube', bore_um: 20, length_mm: 550 });
    expect(setup.gradient?.elution).toEqual({ start_min: 5, end_min: 60 });
    expect(setupFrom(withGradient({})).gradient?.volumes).toBeUndefined();
  });

  it.each([
    [
      { volumes: [{ name: 'line', bore_um: 20 }] },
      'missing gradient.volumes.0; expected volume_nL, or bore_um and length_mm',
    ],
    [
      { volumes: [{ name: 'line', volume_nL: 100, bore_um: 20 }] },
      'missing gradient.volumes.0.length_mm; expected both bore_um and length_mm, or neither beside volume_nL',
    ],
    [
      { volumes: [{ name: 'line', volume_nL: 100, particle_um: 2 }] },
      'invalid gradient.volumes.0.particle_um: 2 µm; expected no particles in a piece of kind tube',
    ],
    [
      { volumes: [{ name: 'column', kind: 'packed bed', bore_um: 75, length_mm: 250 }] },
      'missing gradient.volumes.0.open_fraction; expected the liquid share of a packed bed, about 0.6 to 0.8',
    ],
    [
      { volumes: [{ name: 'line', volume_nL: 0 }] },
      'out of range gradient.volumes.0.volume_nL: 0 nL; expected at least 0.01 nL',
    ],
    [
      { elution: { start_min: 30, end_min: 30 } },
      'out of range gradient.elution.end_min: 30 min; expected later than 30 min',
    ],
  ])('refuses %j in one line', (change, line) => {
    expect(linesOf(withGradient(change))).toEqual([line]);
  });
});
