/** A reading of a session as a mark: circle steady, cross unsteady, square on end not learned from. */
import { type Mark, px } from '../picture.ts';
import type { ReadingTaken, SettleReading } from './session.ts';

export function readingMark(
  reading: SettleReading,
  at: { x: number; y: number },
  k: number,
  taken: ReadingTaken | undefined,
): Mark {
  const { x, y } = { x: px(at.x), y: px(at.y) };
  const tip = `reading ${k + 1}: ${reading.at.voltage_V} V, level ${Number(reading.level.toPrecision(3))}${reading.seen?.length ? `, ${reading.seen.join(', ')}` : ''}`;
  if (taken === 'event' || taken === 'doubted')
    return {
      shape: 'path',
      at: { d: `M${x} ${y - 6}l6 6l-6 6l-6 -6Z`, class: 'd-dim' },
      tip: `${tip}, not learned from`,
    };
  if (reading.seen?.length)
    return { shape: 'path', at: { d: `M${x - 5} ${y - 5}l10 10m0 -10l-10 10`, class: 'd-event' }, tip };
  return { shape: 'circle', at: { cx: x, cy: y, r: 5, class: 'd-trace' }, tip };
}
