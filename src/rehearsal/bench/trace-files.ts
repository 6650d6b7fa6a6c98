/**
 * Rehearsed traces as files: CSV with units in its headings, WAV of 16 bits, raw 16-bit samples with a sidecar. Each says that
 * it is invented, in the form its reader looks for; a WAV in a comment chunk. Pieces, so that a long trace is never in memory.
 */
import type { BenchControls } from './controls.ts';
import { type Meter, meterStep } from './meter.ts';

const MARK = 'invented data: made by steadycone rehearse';

function markOf(seed: number): string {
  return `${MARK}, seed ${seed}; not a measurement`;
}

export function traceCsvHead(seed: number, meter: Meter): string {
  return `# ${markOf(seed)}\n# meter: ${Math.round(meter.bandwidth_Hz)} Hz, ${meter.rate_Hz} samples/s, ${meter.bits} bits\ntime_s,current_nA,voltage_V,pressure_bar\n`;
}

export function traceCsvRows(
  samples: Float32Array,
  first: number,
  meter: Meter,
  { voltage_V, high_voltage }: BenchControls,
  pressure_bar: number,
): string {
  const tail = `,${high_voltage ? voltage_V : 0},${pressure_bar.toFixed(2)}\n`;
  const digits = Math.max(0, Math.ceil(Math.log10(meter.rate_Hz)));
  let text = '';
  for (let i = 0; i < samples.length; i++)
    text += `${((first + i) / meter.rate_Hz).toFixed(digits)},${(samples[i]! * 1e9).toFixed(3)}${tail}`;
  return text;
}

/** One step of the 16-bit files [A]. */
export function pcmStep(meter: Meter): number {
  return meter.fullScale_A / 32768;
}

export function pcmBytes(samples: Float32Array, meter: Meter): Uint8Array {
  const view = new DataView(new ArrayBuffer(samples.length * 2));
  const step = pcmStep(meter);
  for (let i = 0; i < samples.length; i++)
    view.setInt16(2 * i, Math.max(-32768, Math.min(32767, Math.round(samples[i]! / step))), true);
  return new Uint8Array(view.buffer);
}

/** Full scale of the samples that follow is the meter's. */
export function wavHead(seed: number, meter: Meter, count: number): Uint8Array {
  const comment = `${markOf(seed)}; full scale ${meter.fullScale_A * 1e9} nA`;
  const words = comment.length + 1 + ((comment.length + 1) & 1);
  const data = 2 * count;
  const bytes = new Uint8Array(12 + 24 + 8 + 4 + 8 + words + 8);
  const view = new DataView(bytes.buffer);
  let at = 0;
  const name = (text: string) => {
    for (const letter of text) bytes[at++] = letter.charCodeAt(0);
  };
  const u32 = (value: number) => {
    view.setUint32(at, value, true);
    at += 4;
  };
  const u16 = (value: number) => {
    view.setUint16(at, value, true);
    at += 2;
  };
  name('RIFF');
  u32(bytes.length - 8 + data);
  name('WAVEfmt ');
  u32(16);
  u16(1);
  u16(1);
  u32(meter.rate_Hz);
  u32(meter.rate_Hz * 2);
  u16(2);
  u16(16);
  name('LIST');
  u32(4 + 8 + words);
  name('INFOICMT');
  u32(words);
  name(comment);
  at += words - comment.length;
  name('data');
  u32(data);
  return bytes;
}

export function rawSidecarText(seed: number, meter: Meter): string {
  const channel = { quantity: 'current', name: 'spray current', unit: 'A', scale: pcmStep(meter) };
  const sidecar = {
    format: 'int16',
    rate_Hz: meter.rate_Hz,
    channels: [channel],
    header_bytes: 0,
    bandwidth_Hz: meter.bandwidth_Hz,
    invented: true,
    note: `${markOf(seed)}; the meter's own step is ${(meterStep(meter) * 1e9).toPrecision(3)} nA`,
  };
  return `${JSON.stringify(sidecar, null, 2)}\n`;
}
