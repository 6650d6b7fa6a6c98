/** A stored reading as today's page takes it: what an older version did not know yet is filled in as not known. */
import type { RunReading } from '../../evidence/run-reading.ts';
import { isRecord } from '../address.ts';

/** Undefined where the document is no reading of a run. */
export function readingOf(document: unknown): RunReading | undefined {
  if (!isRecord(document) || !Array.isArray(document.groups) || !isRecord(document.verdict)) return undefined;
  const reading = document as unknown as RunReading;
  return {
    ...reading,
    masked: reading.masked ?? [],
    lacks: reading.lacks ?? ['An older version made this reading; read the run again to learn more.'],
    peaks_read: reading.peaks_read ?? false,
    stability: reading.stability ?? {
      grade: 'cannot tell',
      definition: '',
      sentence: 'This reading is older than the stability grade.',
    },
    groups: reading.groups.map((group) => ({
      ...group,
      rate: group.rate ?? null,
      spray: group.spray ?? null,
      limits: group.limits ?? null,
    })),
  };
}
