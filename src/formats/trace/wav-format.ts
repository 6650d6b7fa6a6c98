/** How the samples of a WAV file are stored, by its fmt chunk. */
import { inputError } from '../../core/errors.ts';
import { SAMPLE_FORMATS } from './sample-formats.ts';

const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;
/** Chunks begin after the file's own name and length. */
const FIRST_CHUNK = 12;

export interface WavFormat {
  sample: keyof typeof SAMPLE_FORMATS;
  channels: number;
  rate_Hz: number;
}

export function formatOf(view: DataView, at: number, size: number): WavFormat {
  let code = view.getUint16(at, true);
  const channels = view.getUint16(at + 2, true);
  const rate_Hz = view.getUint32(at + 4, true);
  const bits = view.getUint16(at + 14, true);
  if (code === EXTENSIBLE && size >= 26) code = view.getUint16(at + 24, true);
  const key = code === PCM ? `pcm${bits}` : code === FLOAT ? `float${bits}` : '';
  if (!isFormat(key) || channels < 1 || rate_Hz < 1)
    throw inputError(
      'invalid',
      'WAV format',
      `code ${code}, ${bits} bits, ${channels} channels, ${rate_Hz} per second`,
      'PCM of 8, 16, 24 or 32 bits or float of 32 or 64 bits',
    );
  return { sample: key, channels, rate_Hz };
}

function isFormat(key: string): key is WavFormat['sample'] {
  return Object.hasOwn(SAMPLE_FORMATS, key);
}

export function chunkName(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4));
}

/** Undefined where the first bytes do not reach it. */
export function wavFormat(bytes: Uint8Array): WavFormat | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = FIRST_CHUNK; at + 8 <= bytes.length; ) {
    const size = view.getUint32(at + 4, true);
    if (chunkName(bytes, at) === 'fmt ' && at + 8 + size <= bytes.length) return formatOf(view, at + 8, size);
    at += 8 + size + (size & 1);
  }
  return undefined;
}
