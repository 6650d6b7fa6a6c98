import { expect, it } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { currentStream, givenBandwidth } from '../../core/signal/index.ts';
import { burstEdges } from './burst-trains.ts';
import { readCurrent } from './read-current.ts';

const RATE = 20000;
const NA = 1e-9;

/** Eight milliseconds up, six down; inside the upper stretches pulses, or a calm jet. */
function reading(inside: (k: number) => number) {
  const random = randomStream(5, 'burst trains');
  const stream = currentStream({ rate_Hz: RATE, window_s: 0.1 });
  const samples = new Float64Array(2 * RATE);
  for (let k = 0; k < samples.length; k++)
    samples[k] = ((k / RATE) % 0.014 < 0.008 ? inside(k) : 0) * NA + 0.4 * NA * random.normal();
  stream.push(samples, samples.length);
  return readCurrent(stream.end(), { bandwidth: givenBandwidth(8000, 'given') });
}

const change = (before: number, after: number, scatter_before: number, scatter_after: number) => ({
  at_s: 1,
  before: before * NA,
  after: after * NA,
  before_s: 0.1,
  after_s: 0.1,
  between_s: 0.001,
  scatter_before: scatter_before * NA,
  scatter_after: scatter_after * NA,
  wander: 0,
});

it('takes only changes between nothing and a level that scatters as pulses do', () => {
  expect(burstEdges([change(0.1, 25, 0.4, 12), change(25, 0.1, 12, 0.4)])).toEqual([1, 1]);
  expect(burstEdges([change(0.1, 130, 0.4, 3)])).toEqual([]);
  expect(burstEdges([change(90, 130, 20, 1)])).toEqual([]);
  expect(burstEdges([change(0.1, 1.5, 0.4, 12)])).toEqual([]);
});

it('names trains whose pulses are beyond the meter bursts, and never an unsteady jet', () => {
  const random = randomStream(6, 'pulses');
  const { timeline, shares } = reading(() => 25 * (1 + 0.5 * random.normal()));
  expect(timeline.map(({ regime }) => regime)).toContain('intermittent bursts');
  expect(shares['intermittent bursts']).toBeGreaterThan(0.8);
  expect(shares['unsteady jet']).toBeLessThan(0.05);
});

it('does not name a jet whose voltage is broken again and again so', () => {
  expect(reading(() => 130).shares['intermittent bursts']).toBeLessThan(0.5);
});
