/**
 * WAV (RIFF, and RF64 for files above 4 GB): PCM of 8, 16, 24 and 32 bits and floats of 32 and 64, little-endian. Samples are
 * parts of full scale, so the current at full scale must be told; a recording that was set to another level later is
 * no longer a measurement, which no reader can see. Sound cards do not pass a steady current: said as a note.
 */
import { inputError } from '../../core/errors.ts';
import { OpenQuestionError } from './open-question.ts';
import { SAMPLE_FORMATS } from './sample-formats.ts';
import { LEAST_SAMPLES, oddBytes, type SampleReader, sampleReader, tooFewSamples } from './sample-reader.ts';
import type { TraceEnd, TraceOptions, TraceReader, TraceSink } from './trace-record.ts';
import { chunkName, formatOf, type WavFormat } from './wav-format.ts';

const HEADER_MAX = 1 << 20;
/** Written where the length was not known or does not fit. */
const NO_LENGTH = 0xffffffff;
const CHUNK_HEAD = 8;

export function wavReader(options: TraceOptions, sink: TraceSink): TraceReader {
  let head: Uint8Array | undefined = new Uint8Array(0);
  let reader: SampleReader | undefined;
  let left = 0;
  let stated = false;
  /** Bytes behind the samples, and the first of them: other chunks, or samples that the header does not count. */
  let behind = 0;
  const after: number[] = [];

  function begin(bytes: Uint8Array): boolean {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    let format: WavFormat | undefined;
    let long = 0;
    let at = 12;
    while (at + 8 <= bytes.length) {
      const name = chunkName(bytes, at);
      const size = view.getUint32(at + 4, true);
      if (name === 'data') {
        if (!format)
          throw inputError('invalid', 'WAV file', 'samples before their format', 'a fmt chunk first');
        stated = size !== NO_LENGTH && size !== 0;
        left = size === NO_LENGTH && long > 0 ? long : stated ? size : Number.POSITIVE_INFINITY;
        if (long > 0) stated = true;
        const comment = String.fromCharCode(...bytes.subarray(0, Math.min(at, 4096)));
        reader = start(format, at + 8, options, sink, /\binvented\b/i.test(comment));
        feed(bytes.subarray(at + 8));
        return true;
      }
      if (at + 8 + size > bytes.length) return false;
      if (name === 'fmt ') format = formatOf(view, at + 8, size);
      if (name === 'ds64' && size >= 16) long = Number(view.getBigUint64(at + 16, true));
      at += 8 + size + (size & 1);
    }
    return false;
  }

  function feed(bytes: Uint8Array): void {
    const part = bytes.length > left ? bytes.subarray(0, left) : bytes;
    left -= part.length;
    if (part.length > 0) reader!.push(part);
    const rest = bytes.subarray(part.length);
    for (const byte of rest.subarray(0, Math.max(0, CHUNK_HEAD - after.length))) after.push(byte);
    behind += rest.length;
  }

  return {
    push(bytes) {
      if (head === undefined) return feed(bytes);
      const all = new Uint8Array(head.length + bytes.length);
      all.set(head);
      all.set(bytes, head.length);
      head = all;
      if (begin(all)) head = undefined;
      else if (all.length > HEADER_MAX)
        throw inputError('invalid', 'WAV file', 'no samples in the first megabyte', 'fmt and data chunks');
    },
    end() {
      if (!reader)
        throw inputError('invalid', 'WAV file', 'it ends before its samples', 'fmt and data chunks');
      const { samples, missing, left: odd } = reader.end();
      if (samples < LEAST_SAMPLES) throw tooFewSamples(samples);
      const end: TraceEnd = { samples, missing, gaps: [], gap_count: 0, bad_lines: 0, warnings: [] };
      if (behind > CHUNK_HEAD && !isChunk(after))
        end.warnings.push(
          `${behind} bytes stand behind the samples that its header states and were not read: the length in the header looks wrong`,
        );
      if (stated && left > 0) end.cut_short = `${left} bytes fewer than its header states`;
      else if (odd > 0) end.cut_short = oddBytes(odd);
      return end;
    },
  };
}

function start(
  format: WavFormat,
  first_byte: number,
  options: TraceOptions,
  sink: TraceSink,
  invented: boolean,
): SampleReader {
  const { full_scale_nA } = options;
  if (full_scale_nA === undefined)
    throw new OpenQuestionError(
      { about: 'full scale' },
      'missing',
      'scale of the WAV file',
      '',
      'the current at full scale with --full-scale_nA',
    );
  const channel = channelOf(options.column, format.channels);
  const rate_Hz = options.rate_Hz ?? format.rate_Hz;
  const scale = full_scale_nA * 1e-9;
  const sample = SAMPLE_FORMATS[format.sample];
  sink.head({
    kind: 'wav',
    rate_Hz,
    rate_from: options.rate_Hz === undefined ? 'file header' : 'given',
    start_s: 0,
    channels: [
      { quantity: 'current', name: `channel ${channel + 1}`, unit: `full scale ${full_scale_nA} nA`, scale },
    ],
    invented,
    stored: {
      format: format.sample,
      first_byte,
      frame_bytes: sample.bytes * format.channels,
      at_byte: sample.bytes * channel,
      scale,
      offset: 0,
    },
    notes: [
      'a WAV file from a sound input has usually lost its steady part: the mean current is then not that of the spray',
    ],
  });
  return sampleReader(
    sample,
    format.channels,
    [{ quantity: 'current', at: channel, scale, offset: 0 }],
    rate_Hz,
    sink,
  );
}

/** A name of four letters; a byte may fill up an odd number of bytes before it. */
function isChunk(bytes: readonly number[]): boolean {
  return /^\0?[A-Za-z][A-Za-z0-9_ ]{3}/.test(String.fromCharCode(...bytes));
}

function channelOf(column: string | undefined, channels: number): number {
  if (column === undefined) {
    if (channels === 1) return 0;
    throw new OpenQuestionError(
      { about: 'channel', channels },
      'missing',
      'channel',
      `${channels} channels`,
      `--column 1 to ${channels}`,
    );
  }
  const number = Number(column);
  if (!Number.isInteger(number) || number < 1 || number > channels)
    throw inputError('unknown', 'channel', column, `a number from 1 to ${channels}`);
  return number - 1;
}
