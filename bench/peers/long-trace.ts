/**
 * An invented trace of hours on disk: int16 at 0.02 nA a step beside its sidecar, written in pieces. A steady spray of 100 nA with
 * white noise of 2 nA and a slow drift; on top of it, by seed, stretches of pulsation, of a second jet, of no spray and of bursts.
 */
import { closeSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { xoshiro128 } from '../../src/core/random.ts';

export interface WrittenEvent {
  kind: 'pulsating' | 'second jet' | 'no spray' | 'bursts';
  start_s: number;
  end_s: number;
}

const STEP_NA = 0.02;
const LEVEL_NA = 100;
const NOISE_NA = 2;
const DRIFT = 0.08;
const PULSE_HZ = 3000;
/** One event in every so many seconds, of a fifth of it at most. */
const EVERY_S = 600;
const KINDS = ['pulsating', 'second jet', 'no spray', 'bursts'] as const;
const PIECE = 1 << 20;
/** Standard deviation of the sum of four bytes drawn at random. */
const BYTES_SD = Math.sqrt((4 * (256 ** 2 - 1)) / 12);

/** Writes `path` and `path.json`; tells what was written in. */
export function writeLongTrace(
  path: string,
  { rate_Hz, hours, seed }: { rate_Hz: number; hours: number; seed: number },
): { samples: number; events: WrittenEvent[] } {
  const samples = Math.round(hours * 3600 * rate_Hz);
  const next = xoshiro128(seed, 2, 3, 4);
  const events = eventsOf(hours * 3600, next);
  const file = openSync(path, 'w');
  const piece = new Int16Array(PIECE);
  let at = 0;
  let event = 0;
  while (at < samples) {
    const count = Math.min(PIECE, samples - at);
    for (let k = 0; k < count; k++) {
      const time = (at + k) / rate_Hz;
      while (event < events.length && time >= events[event]!.end_s) event++;
      const now = events[event];
      const word = next();
      const bytes = (word & 255) + ((word >>> 8) & 255) + ((word >>> 16) & 255) + (word >>> 24);
      const noise = ((bytes - 510) / BYTES_SD) * NOISE_NA;
      const level = LEVEL_NA * (1 + DRIFT * Math.sin((2 * Math.PI * time) / 7200));
      const shape = now !== undefined && time >= now.start_s ? shapeOf(now.kind, time) : 1;
      piece[k] = Math.round((level * shape + noise) / STEP_NA);
    }
    writeSync(file, new Uint8Array(piece.buffer, 0, 2 * count));
    at += count;
  }
  closeSync(file);
  writeFileSync(
    `${path}.json`,
    JSON.stringify({
      format: 'int16',
      rate_Hz,
      channels: [{ quantity: 'current', unit: 'nA', scale: STEP_NA }],
      invented: true,
    }),
  );
  return { samples, events };
}

function eventsOf(length_s: number, next: () => number): WrittenEvent[] {
  const part = () => next() / 4294967296;
  const events: WrittenEvent[] = [];
  for (let k = 0; (k + 1) * EVERY_S <= length_s; k++) {
    const start_s = (k + 0.2 + 0.5 * part()) * EVERY_S;
    events.push({
      kind: KINDS[k % KINDS.length]!,
      start_s,
      end_s: start_s + (0.05 + 0.15 * part()) * EVERY_S,
    });
  }
  return events;
}

/** Of the steady level. */
function shapeOf(kind: WrittenEvent['kind'], time: number): number {
  if (kind === 'no spray') return 0;
  if (kind === 'second jet') return Math.SQRT2;
  const phase = (time * PULSE_HZ) % 1;
  const pulses = 3 * Math.exp(-6 * phase);
  if (kind === 'pulsating') return pulses;
  return (time * 20) % 1 < 0.4 ? pulses : 0;
}
