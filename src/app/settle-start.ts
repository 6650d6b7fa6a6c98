/**
 * What a new settle session can be filled with: the reading and the cause it is begun for, the set-up, and where this emitter
 * was settled last. A run file holds neither the voltage nor the position: they come from the set-up or the last working point.
 */
import type { SettleStart } from '../contract/index.ts';
import { FAULTS } from '../core/causes/index.ts';
import { inputError } from '../core/errors.ts';
import { reasonWords, type WorkingPoint } from '../core/settling/index.ts';
import type { Setup } from '../core/setup.ts';
import type { RunReading } from '../evidence/index.ts';
import { runFigures } from '../evidence/read-figures.ts';
import type { Bench } from './bench.ts';
import { benchSetup } from './bench-setup.ts';
import { keptRunReading } from './kept-reading.ts';
import { reasonFrom } from './settle-story.ts';

export interface SettleAsk {
  reading?: string | undefined;
  cause?: string | undefined;
  probability?: string | undefined;
  emitter?: string | undefined;
  setup?: string | undefined;
}

export async function settleStart(bench: Bench, asked: SettleAsk): Promise<SettleStart> {
  const led = asked.reading === undefined ? undefined : await keptRunReading(bench, asked.reading);
  const before = led && runFigures(led.reading, led.name, led.id);
  const setup = asked.setup === undefined ? undefined : await benchSetup(bench, asked.setup);
  const because =
    asked.cause === undefined ? null : reasonFrom(causeId(asked.cause), before, shareOf(asked.probability));
  const last = asked.emitter === undefined ? undefined : await lastPoint(bench, asked.emitter);
  const from: string[] = [];
  if (before !== undefined) from.push(`Reading ${before.reading_id} of ${before.file}.`);
  if (setup !== undefined) from.push(`Distance, offset, polarity and flow from set-up ${asked.setup}.`);
  if (last !== undefined)
    from.push(
      `Voltage and position of ${last.id}, where this emitter was settled on ${last.point.date.slice(0, 10)}.`,
    );
  if (last === undefined && setup?.voltage.supply_V === undefined)
    from.push('No voltage is known: a run file holds none. Type what the supply shows now.');
  return {
    name: [asked.emitter, before?.file].filter((part) => part !== undefined).join(', '),
    emitter: asked.emitter ?? last?.point.emitter ?? null,
    instrument: last?.point.instrument ?? null,
    invented: before?.invented ?? false,
    polarity: setup?.polarity ?? polarityOf(led?.reading),
    at: { ...setupAt(setup), ...last?.point.at },
    flow_nL_min: setup?.feed.kind === 'pumped' ? setup.feed.flow_nL_min : (last?.point.flow_nL_min ?? null),
    setup: setup ?? null,
    because,
    because_words: because === null ? null : reasonWords(because),
    from,
  };
}

function setupAt(setup: Setup | undefined): SettleStart['at'] {
  if (setup === undefined) return {};
  const { distance_mm, lateral_offset_mm, angle_deg } = setup.inlet;
  const { supply_V } = setup.voltage;
  return {
    distance_mm,
    lateral_x_mm: lateral_offset_mm,
    angle_deg,
    ...(supply_V === undefined ? {} : { voltage_V: supply_V }),
  };
}

function causeId(id: string): string {
  if (FAULTS.some((fault) => fault.id === id)) return id;
  throw inputError(
    'unknown',
    'cause',
    id.slice(0, 60),
    'the id of a cause in the catalogue, such as offset-drift',
  );
}

function shareOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() === '' || !(value >= 0 && value <= 1))
    throw inputError('out of range', 'probability', text.slice(0, 20), 'a number from 0 to 1');
  return value;
}

function polarityOf(reading: RunReading | undefined): SettleStart['polarity'] {
  const polarity = reading?.groups[reading.main_group]?.polarity;
  return polarity === 'positive' || polarity === 'negative' ? polarity : null;
}

async function lastPoint(
  bench: Bench,
  emitter: string,
): Promise<{ id: string; point: WorkingPoint } | undefined> {
  for (const { id } of await bench.list({ kind: 'point', query: emitter })) {
    const point = (await bench.show(id)).document as WorkingPoint;
    if (point.emitter === emitter) return { id, point };
  }
  return undefined;
}
