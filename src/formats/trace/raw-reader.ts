/** Raw little-endian samples, channels interleaved, as their sidecar says. */
import { InputError } from '../../core/errors.ts';
import { SAMPLE_FORMATS } from './sample-formats.ts';
import { LEAST_SAMPLES, oddBytes, sampleReader, tooFewSamples } from './sample-reader.ts';
import type {
  RawSidecar,
  TraceEnd,
  TraceOptions,
  TraceQuantity,
  TraceReader,
  TraceSink,
} from './trace-record.ts';
import { unitOf } from './trace-units.ts';

export function rawReader(options: TraceOptions, sidecar: RawSidecar, sink: TraceSink): TraceReader {
  const rate_Hz = options.rate_Hz ?? sidecar.rate_Hz;
  const chosen = new Map<TraceQuantity, number>();
  sidecar.channels.forEach((channel, k) => {
    if (channel.quantity !== 'other' && !chosen.has(channel.quantity)) chosen.set(channel.quantity, k);
  });
  if (options.column !== undefined) {
    const at = sidecar.channels.findIndex(
      (c, k) => c.name === options.column || String(k + 1) === options.column,
    );
    if (at < 0 || sidecar.channels[at]!.quantity !== 'current')
      throw new InputError([
        {
          kind: 'unknown',
          where: 'channel',
          found: options.column,
          expected: `a current channel: ${sidecar.channels.map((c) => c.name).join(', ')}`,
        },
      ]);
    chosen.set('current', at);
  }
  const channels = [...chosen].map(([quantity, at]) => {
    const channel = sidecar.channels[at]!;
    const unit = unitOf(channel.unit)!;
    let size = unit.scale;
    if (quantity === 'current' && unit.quantity === 'voltage') {
      if (options.resistor_MOhm === undefined)
        throw new InputError([
          {
            kind: 'missing',
            where: 'resistor',
            found: `"${channel.name}" is a voltage`,
            expected: '--resistor_MOhm',
          },
        ]);
      size /= options.resistor_MOhm * 1e6;
    }
    return { quantity, at, scale: channel.scale * size, offset: channel.offset * size };
  });
  const sample = SAMPLE_FORMATS[sidecar.format];
  const { at, scale, offset } = channels.find(({ quantity }) => quantity === 'current')!;
  sink.head({
    kind: 'raw',
    rate_Hz,
    rate_from: options.rate_Hz === undefined ? 'file header' : 'given',
    start_s: 0,
    channels: channels.map(({ quantity, at, scale }) => ({
      quantity,
      name: sidecar.channels[at]!.name,
      unit: sidecar.channels[at]!.unit,
      scale,
    })),
    ...(sidecar.bandwidth_Hz === undefined ? {} : { bandwidth_Hz: sidecar.bandwidth_Hz }),
    invented: sidecar.invented,
    stored: {
      format: sidecar.format,
      first_byte: sidecar.header_bytes,
      frame_bytes: sample.bytes * sidecar.channels.length,
      at_byte: sample.bytes * at,
      scale,
      offset,
    },
    notes: [],
  });
  const reader = sampleReader(sample, sidecar.channels.length, channels, rate_Hz, sink);
  let skip = sidecar.header_bytes;
  return {
    push(bytes) {
      const from = Math.min(skip, bytes.length);
      skip -= from;
      if (from < bytes.length) reader.push(bytes.subarray(from));
    },
    end() {
      const { samples, missing, left } = reader.end();
      if (samples < LEAST_SAMPLES) throw tooFewSamples(samples, sidecar.header_bytes);
      const end: TraceEnd = { samples, missing, gaps: [], gap_count: 0, bad_lines: 0, warnings: [] };
      if (left > 0) end.cut_short = `${oddBytes(left)}; check format and channels of the sidecar`;
      return end;
    },
  };
}
