import { describe, expect, it } from 'vitest';
import { InputError } from '../core/errors.ts';
import { documentJsonSchema } from './documents.ts';
import { setupFrom } from './setup.ts';

const good = {
  emitter: { bore_um: 10, rim_um: 20 },
  liquid: { acetonitrile_percent: 40, additive: 'formic acid', additive_percent: 0.1 },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  inlet: { distance_mm: 2.5 },
};

function linesOf(document: unknown): string[] {
  try {
    setupFrom(document);
  } catch (error) {
    if (error instanceof InputError) return error.message.split('\n');
    throw error;
  }
  return [];
}

describe('setupFrom', () => {
  it('fills the defaults', () => {
    const setup = setupFrom(good);
    expect(setup.polarity).toBe('positive');
    expect(setup.emitter.wets).toBe('rim');
    expect(setup.voltage).toEqual({ contact: 'tip', column: [] });
  });

  it.each([
    [
      { ...good, emitter: { bore_um: 10, rim_um: 5 } },
      'out of range emitter.rim_um: 5 µm; expected at least the bore, 10 µm',
    ],
    [{ ...good, emitter: { rim_um: 20 } }, 'missing emitter.bore_um; expected a number in µm'],
    [
      { ...good, emitter: { bore_um: 'ten', rim_um: 20 } },
      'invalid emitter.bore_um: "ten"; expected a number in µm',
    ],
    [
      { ...good, emitter: { bore_um: Number.NaN, rim_um: 20 } },
      'invalid emitter.bore_um: NaN; expected a number in µm',
    ],
    [
      { ...good, emitter: { bore_um: 10, rim_um: 1e6 } },
      'out of range emitter.rim_um: 1000000 µm; expected at most 3000 µm',
    ],
    [
      { ...good, feed: { kind: 'pumped', flow_nL_min: -3 } },
      'out of range feed.flow_nL_min: -3 nL/min; expected at least 0.1 nL/min',
    ],
    [
      { ...good, feed: { kind: 'pumped', flow_uL_min: 3 } },
      'unknown feed.flow_uL_min: 3; expected a name that `steadycone schema setup` lists',
    ],
    [
      { ...good, liquid: { acetonitrile_percent: 80, methanol_percent: 30 } },
      'out of range liquid: 110 % organic in all; expected at most 100 %',
    ],
    [
      { ...good, liquid: { additive: 'formic acid' } },
      'missing liquid.additive_percent; expected the amount of formic acid in % v/v',
    ],
    [
      { ...good, inlet: { distance_mm: 0.05 }, emitter: { bore_um: 90, rim_um: 100 } },
      'out of range inlet.distance_mm: 0.05 mm; expected at least three radii of the contact line, 0.150 mm',
    ],
    [
      { ...good, voltage: { contact: 'liquid junction' } },
      'missing voltage.column; expected the pieces of liquid between contact and tip (bore_um, length_mm)',
    ],
    [{ ...good, polarity: 'both' }, 'invalid polarity: "both"; expected one of positive, negative'],
  ])('one line for %#', (document, line) => {
    expect(linesOf(document)).toContain(line);
  });

  it('reports several faults at once', () => {
    const lines = linesOf({ ...good, emitter: { bore_um: -1, rim_um: 'x' }, inlet: {} });
    expect(lines.length).toBeGreaterThanOrEqual(3);
  });

  it.each([null, 7, 'text', []])('refuses %j with one line', (document) => {
    expect(linesOf(document)).toHaveLength(1);
  });

  it('refuses a list that holds itself', () => {
    const loop: unknown[] = [];
    loop.push(loop);
    expect(linesOf({ ...good, emitter: loop })).toEqual([
      'invalid emitter: a list that holds itself; expected a group of values',
    ]);
  });

  it('gives a JSON Schema with units', () => {
    const text = JSON.stringify(documentJsonSchema('setup'));
    expect(text).toContain('"flow_nL_min"');
    expect(text).toContain('inner diameter at the tip [µm]');
  });
});
