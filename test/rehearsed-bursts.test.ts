/**
 * Rehearsed trains of pulses near the onset through a meter slower than the pulses: they are bursts, not an unsteady jet. Without the trains
 * (burst-trains.ts) the stray changes between two of them look like an unsteady jet. Rehearsed, no measurement.
 */
import { expect, it } from 'vitest';
import { currentStream, givenBandwidth } from '../src/core/signal/index.ts';
import { readCurrent } from '../src/evidence/current/index.ts';
import { createBench, METERS } from '../src/rehearsal/index.ts';

const SECOND = 200;
const LENGTH = 3 * SECOND;

it.each([
  // Seed 3: onset at 1015 V, steady from 1058 V; the bench itself is asked what it does.
  [3, 1030],
])('seed %i at %i V', (seed, voltage_V) => {
  const meter = METERS.usual;
  const bench = createBench({ seed, meter });
  const controls = { voltage_V, flow_nL_min: 300, distance_mm: 3, offset_mm: 0, high_voltage: true };
  const piece = new Float32Array(bench.samplesPerTick);
  const samples = new Float64Array(bench.samplesPerTick);
  const stream = currentStream({ rate_Hz: meter.rate_Hz, window_s: 0.1 });
  // Dripping wets the face, which moves the onset; the first half second at the new voltage is left out.
  for (let k = 0; k < 4 * SECOND; k++) bench.tick({ ...controls, voltage_V: 900 });
  for (let k = 0; k < SECOND / 2; k++) bench.tick(controls);
  let bursting = 0;
  for (let k = 0; k < LENGTH; k++) {
    bench.tick(controls, piece);
    samples.set(piece);
    stream.push(samples, samples.length);
    if (bench.state.regime === 'bursts') bursting++;
  }
  // The test stands on what the bench does there.
  expect(bursting).toBe(LENGTH);
  const { shares } = readCurrent(stream.end(), { bandwidth: givenBandwidth(meter.bandwidth_Hz, 'given') });
  expect(shares['intermittent bursts'] + shares.pulsating).toBeGreaterThan(0.9);
  expect(shares['intermittent bursts']).toBeGreaterThan(0.7);
  expect(shares['unsteady jet']).toBeLessThan(0.05);
});
