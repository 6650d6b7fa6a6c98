/** What the explain readers take from a reading: its main group, the events that decide and the loss that stays. */
import type { RunEvent, RunGroup, RunReading } from '../run-reading.ts';

/** Events of less belief are not put before the catalogue. */
export const BELIEVED = 0.5;

export function mainGroupOf(reading: RunReading): RunGroup | undefined {
  return reading.groups[reading.main_group];
}

/** Believed events of the main group and acquisition gaps, in order of time. */
export function decidingEvents(reading: RunReading): RunEvent[] {
  return reading.events.filter((event) => event.group === reading.main_group && event.confidence >= BELIEVED);
}

/** A level that falls and stays down. */
export function lossOf(reading: RunReading): RunEvent | undefined {
  return decidingEvents(reading).find(
    ({ kind }) => kind === 'level lost' || kind === 'signal lost at the end',
  );
}
