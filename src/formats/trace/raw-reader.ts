/**
 * Raw little-endian samples beside a JSON sidecar that says how to read them:
 * { "format": "int16", "rate_Hz": 100000, "channels": [{ "quantity": "current", "unit": "nA", "scale": 0.01 }],
 *   "header_bytes": 0, "bandwidth_Hz": 20000, "invented": false }.
 */
import { type Fault, InputError } from '../../core/errors.ts';
import { SAMPLE_FORMATS, sampleReader } from './sample-reader.ts';
import type {
  RawChannel,
  RawSidecar,
  TraceEnd,
  TraceOptions,
  TraceQuantity,
  TraceReader,
  TraceSink,
} from './trace-record.ts';
import { unitOf, unitsOf } from './trace-units.ts';

const FORMATS = ['int16', 'int32', 'float32', 'float64'] as const;
const QUANTITIES = ['current', 'voltage', 'pressure', 'other'] as const;
const KEYS = ['format', 'rate_Hz', 'channels', 'header_bytes', 'bandwidth_Hz', 'invented', 'note'];

/** Throws one InputError with every fault of the sidecar. */
export function rawSidecar(document: unknown): RawSidecar {
  const faults: Fault[] = [];
  const bad = (where: string, value: unknown, expected: string) =>
    faults.push({
      kind: value === undefined ? 'missing' : 'invalid',
      where: `sidecar.${where}`,
      found: value === undefined ? '' : JSON.stringify(value).slice(0, 60),
      expected,
    });
  const side = (typeof document === 'object' && document !== null ? document : {}) as Record<string, unknown>;
  for (const key of Object.keys(side))
    if (!KEYS.includes(key))
      faults.push({
        kind: 'unknown',
        where: `sidecar.${key}`,
        found: '',
        expected: `one of ${KEYS.join(', ')}`,
      });
  const positive = (value: unknown): value is number =>
    typeof value === 'number' && value > 0 && Number.isFinite(value);
  if (!FORMATS.some((f) => f === side.format)) bad('format', side.format, `one of ${FORMATS.join(', ')}`);
  if (!positive(side.rate_Hz)) bad('rate_Hz', side.rate_Hz, 'samples per second');
  if (side.bandwidth_Hz !== undefined && !positive(side.bandwidth_Hz))
    bad('bandwidth_Hz', side.bandwidth_Hz, 'the analogue bandwidth of the meter');
  const header = side.header_bytes ?? 0;
  if (!(Number.isInteger(header) && (header as number) >= 0)) bad('header_bytes', header, 'a whole number');
  const listed = Array.isArray(side.channels) ? (side.channels as Record<string, unknown>[]) : [];
  if (listed.length === 0)
    bad('channels', side.channels, 'a list with quantity, unit and scale of each channel');
  const channels: RawChannel[] = listed.map((channel, k) => {
    const quantity = channel?.quantity;
    const where = `channels.${k}`;
    if (!QUANTITIES.some((q) => q === quantity))
      bad(`${where}.quantity`, quantity, `one of ${QUANTITIES.join(', ')}`);
    else if (quantity !== 'other') {
      const unit = typeof channel.unit === 'string' ? unitOf(channel.unit) : undefined;
      const across = quantity === 'current' && unit?.quantity === 'voltage';
      if (unit?.quantity !== quantity && !across)
        bad(`${where}.unit`, channel.unit, `one of ${unitsOf(quantity as TraceQuantity)}`);
      if (typeof channel.scale !== 'number' || channel.scale === 0 || !Number.isFinite(channel.scale))
        bad(`${where}.scale`, channel.scale, 'what one stored step is worth in that unit (1 for floats)');
    }
    return {
      quantity: quantity as RawChannel['quantity'],
      name: typeof channel?.name === 'string' ? channel.name : `channel ${k + 1}`,
      unit: String(channel?.unit ?? ''),
      scale: Number(channel?.scale ?? 1),
      offset: Number(channel?.offset ?? 0),
    };
  });
  if (listed.length > 0 && !channels.some((c) => c.quantity === 'current'))
    bad('channels', 'none is the current', 'one with "quantity": "current"');
  if (faults.length > 0) throw new InputError(faults);
  const result: RawSidecar = {
    format: side.format as RawSidecar['format'],
    rate_Hz: side.rate_Hz as number,
    header_bytes: header as number,
    channels,
    invented: side.invented === true,
  };
  if (side.bandwidth_Hz !== undefined) result.bandwidth_Hz = side.bandwidth_Hz as number;
  return result;
}

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
    notes: [],
  });
  const reader = sampleReader(
    SAMPLE_FORMATS[sidecar.format],
    sidecar.channels.length,
    channels,
    rate_Hz,
    sink,
  );
  let skip = sidecar.header_bytes;
  return {
    push(bytes) {
      const from = Math.min(skip, bytes.length);
      skip -= from;
      if (from < bytes.length) reader.push(bytes.subarray(from));
    },
    end() {
      const { samples, missing, left } = reader.end();
      const end: TraceEnd = { samples, missing, gaps: [], gap_count: 0, bad_lines: 0, warnings: [] };
      if (left > 0)
        end.cut_short = `the last ${left} bytes are no whole sample; check format and channels of the sidecar`;
      return end;
    },
  };
}
