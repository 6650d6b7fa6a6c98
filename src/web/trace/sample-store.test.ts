import { describe, expect, it } from 'vitest';
import { pyramidBuilder } from '../../core/signal/current-pyramid.ts';
import { fileSource, keptSamples, sampleStore } from './sample-store.ts';

/** Samples are kept in single precision. */
const SINGLE = 1e-6;

function filled(count: number, kept: number, spikeAt: number) {
  const samples = keptSamples(kept);
  const table = pyramidBuilder();
  const block = new Float64Array(1000);
  for (let first = 0; first < count; first += block.length) {
    const length = Math.min(block.length, count - first);
    for (let k = 0; k < length; k++) block[k] = first + k === spikeAt ? 50 : Math.sin((first + k) / 40);
    samples.push(block, length);
    table.push(block, length);
  }
  return sampleStore(table.end(), samples.source());
}

describe('the samples of a trace', () => {
  it('shows single samples where the view is narrow', async () => {
    const store = filled(100_000, 1 << 20, 5);
    const view = await store.view(70_000, 70_050, 500);
    if (view.kind !== 'samples') throw new Error(view.kind);
    expect(view.first).toBe(70_000);
    expect(view.values).toHaveLength(50);
    expect(Math.abs(view.values[7]! - Math.sin(70_007 / 40))).toBeLessThan(SINGLE);
    expect(store.finest).toBe(1);
  });

  it.each([
    ['whole', 0, 100_000],
    ['narrower than the table', 77_000, 78_500],
  ])('loses no spike in a view %s', async (_, from, to) => {
    const store = filled(100_000, 1 << 20, 77_777);
    const view = await store.view(from, to, 300);
    if (view.kind !== 'stretches') throw new Error(view.kind);
    expect(Math.max(...view.high)).toBe(50);
    const k = view.high.indexOf(50);
    expect(view.first + k * view.samples).toBeLessThanOrEqual(77_777);
    expect(view.first + (k + 1) * view.samples).toBeGreaterThan(77_777);
    expect(view.high.length).toBeLessThanOrEqual(300);
  });

  it('holds no samples beyond its room, and says how fine it still shows', async () => {
    const store = filled(100_000, 50_000, 5);
    expect(store.finest).toBeGreaterThan(1);
    expect((await store.view(10, 20, 500)).kind).toBe('stretches');
  });

  it('reads the samples of a long trace from their places in the file', async () => {
    // Two channels of 16 bits behind a header of 6 bytes; the current is the second, its sign turned.
    const stored = {
      format: 'int16',
      first_byte: 6,
      frame_bytes: 4,
      at_byte: 2,
      scale: 0.5,
      offset: 1,
    } as const;
    const frames = Int16Array.from({ length: 2000 }, (_, k) => (k % 2 === 0 ? -7 : k >> 1));
    const file = new Blob([new Uint8Array(6), frames]);
    const table = pyramidBuilder();
    table.push(
      Float64Array.from({ length: 1000 }, (_, k) => -(0.5 * k + 1)),
      1000,
    );
    const store = sampleStore(table.end(), fileSource(file, stored, -1));
    expect(store.finest).toBe(1);
    const view = await store.view(990, 1005, 100);
    if (view.kind !== 'samples') throw new Error(view.kind);
    expect([...view.values]).toEqual(Array.from({ length: 10 }, (_, k) => -(0.5 * (990 + k) + 1)));
    const wider = await store.view(0, 1000, 50);
    if (wider.kind !== 'stretches') throw new Error(wider.kind);
    expect([wider.low[0], wider.high[0]]).toEqual([-10.5, -1]);
  });
});
