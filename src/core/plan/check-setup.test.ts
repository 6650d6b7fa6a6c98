import { describe, expect, it } from 'vitest';
import { InputError } from '../errors.ts';
import type { Setup } from '../setup.ts';
import { planFor } from './index.ts';

function setup(change: (s: Setup) => void): Setup {
  const base: Setup = {
    emitter: {
      bore_um: 10,
      rim_um: 20,
      taper_half_angle_deg: 8,
      shank_diameter_um: 360,
      free_length_mm: 10,
      material: 'fused silica',
      inside: 'widens',
      wets: 'rim',
    },
    liquid: {
      acetonitrile_percent: 25,
      methanol_percent: 0,
      propanol_2_percent: 0,
      additive: 'formic acid',
      additive_percent: 0.1,
      temperature_C: 25,
    },
    feed: { kind: 'pumped', flow_nL_min: 300 },
    polarity: 'positive',
    inlet: { distance_mm: 2.5, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
    voltage: { contact: 'tip', column: [] },
  };
  change(base);
  return base;
}

describe('a set-up that nobody can have', () => {
  const pumped = (flow_nL_min: number) => (s: Setup) => {
    s.feed = { kind: 'pumped', flow_nL_min };
  };
  it.each<[string, (s: Setup) => void, string]>([
    ['no bore', (s) => (s.emitter.bore_um = 0), 'out of range emitter.bore_um: 0 µm'],
    ['a negative rim', (s) => (s.emitter.rim_um = -20), 'out of range emitter.rim_um: -20 µm'],
    ['a rim that is no number', (s) => (s.emitter.rim_um = Number.NaN), 'invalid emitter.rim_um: NaN'],
    ['a rim of a metre', (s) => (s.emitter.rim_um = 1e6), 'out of range emitter.rim_um: 1000000 µm'],
    ['a rim inside its bore', (s) => (s.emitter.rim_um = 5), 'expected at least the bore, 10 µm'],
    ['a shank inside its rim', (s) => (s.emitter.shank_diameter_um = 15), 'at least the rim, 20 µm'],
    [
      'less distance than the meniscus needs',
      (s) => {
        s.emitter.wets = 'shank';
        s.inlet.distance_mm = 0.5;
      },
      'out of range inlet.distance_mm: 0.5 mm; expected at least three radii of the contact line, 0.540 mm',
    ],
    ['more than the whole', (s) => (s.liquid.methanol_percent = 80), '105'],
    ['no flow', pumped(0), 'out of range feed.flow_nL_min: 0 nL/min'],
    ['a negative flow', pumped(-3), 'out of range feed.flow_nL_min: -3 nL/min'],
    ['a flow that is no number', pumped(Number.NaN), 'invalid feed.flow_nL_min: NaN'],
    ['a supply that is no number', (s) => (s.voltage.supply_V = Number.NaN), 'invalid voltage.supply_V: NaN'],
  ])('is refused in one clear line: %s', (_, change, line) => {
    let refused: unknown;
    try {
      planFor(setup(change));
    } catch (error) {
      refused = error;
    }
    expect(refused).toBeInstanceOf(InputError);
    expect((refused as InputError).faults).toHaveLength(1);
    expect((refused as InputError).message).toContain(line);
  });
});
