/**
 * The JSON sidecar that says how raw little-endian samples are to be read:
 * { "format": "int16", "rate_Hz": 100000, "channels": [{ "quantity": "current", "unit": "nA", "scale": 0.01 }],
 *   "header_bytes": 0, "bandwidth_Hz": 20000, "invented": false }.
 */
import { type Fault, InputError } from '../../core/errors.ts';
import type { OpenQuestion } from './open-question.ts';
import type { RawChannel, RawSidecar, TraceOptions, TraceQuantity } from './trace-record.ts';
import { unitOf, unitsOf } from './trace-units.ts';

const FORMATS = ['int16', 'int32', 'float32', 'float64'] as const;
const QUANTITIES = ['current', 'voltage', 'pressure', 'other'] as const;
const KEYS = ['format', 'rate_Hz', 'channels', 'header_bytes', 'bandwidth_Hz', 'invented', 'note'];

const WORTH = 'what one stored step is worth in that unit (1 for floats)';

/** Throws one InputError with every fault of the sidecar. `step` is the worth of one stored step where a current's channel has no scale. */
export function rawSidecar(document: unknown, step?: number | undefined): RawSidecar {
  const faults: Fault[] = [];
  const bad = (where: string, value: unknown, expected: string) =>
    faults.push({
      kind: value === undefined ? 'missing' : 'invalid',
      where: `sidecar.${where}`,
      found: value === undefined ? '' : JSON.stringify(value).slice(0, 60),
      expected,
    });
  if (typeof document !== 'object' || document === null || Array.isArray(document))
    throw new InputError([
      {
        kind: 'invalid',
        where: 'sidecar',
        found: (JSON.stringify(document) ?? '').slice(0, 60),
        expected: 'an object with format, rate_Hz and channels',
      },
    ]);
  const side = document as Record<string, unknown>;
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
      const scale = scaleOf(channel, step);
      if (typeof scale !== 'number' || scale === 0 || !Number.isFinite(scale))
        bad(`${where}.scale`, scale, quantity === 'current' ? `${WORTH}, there or with --step` : WORTH);
    }
    const offset = channel?.offset;
    if (offset !== undefined && !Number.isFinite(offset))
      bad(`${where}.offset`, offset, 'a number in that unit');
    return {
      quantity: quantity as RawChannel['quantity'],
      name: typeof channel?.name === 'string' ? channel.name : `channel ${k + 1}`,
      unit: String(channel?.unit ?? ''),
      scale: Number(scaleOf(channel, step) ?? 1),
      offset: Number(channel?.offset ?? 0),
    };
  });
  const named = channels.every((c) => QUANTITIES.some((q) => q === c.quantity));
  if (listed.length > 0 && named && !channels.some((c) => c.quantity === 'current'))
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

/** A current without a scale is asked for; every other fault of a sidecar is for its file to mend. */
export function sidecarQuestions(document: unknown, { raw_step }: TraceOptions): OpenQuestion[] {
  const { channels } = (typeof document === 'object' && document !== null ? document : {}) as {
    channels?: unknown;
  };
  const listed = Array.isArray(channels) ? (channels as Record<string, unknown>[]) : [];
  const bare = listed.find((c) => c?.quantity === 'current' && c.scale === undefined);
  return bare === undefined || raw_step !== undefined
    ? []
    : [{ about: 'step', unit: typeof bare.unit === 'string' ? bare.unit : '' }];
}

function scaleOf(channel: Record<string, unknown>, step: number | undefined): unknown {
  return channel?.scale ?? (channel?.quantity === 'current' ? step : undefined);
}
