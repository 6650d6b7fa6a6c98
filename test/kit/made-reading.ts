/** A reading of an invented run, read in memory by the ordinary reader. */
import { inflateSync } from 'node:zlib';
import { readRun } from '../../src/evidence/index.ts';
import type { RunReading } from '../../src/evidence/run-reading.ts';
import { runReader } from '../../src/formats/index.ts';
import type { RunRecord } from '../../src/formats/run-record.ts';
import { inventedRun } from '../../src/rehearsal/index.ts';

export function inventedRecord(options: Partial<Parameters<typeof inventedRun>[0]> = {}): RunRecord {
  const reader = runReader({
    inflate: (bytes, maxBytes) => inflateSync(bytes, { maxOutputLength: maxBytes }),
  });
  const encoder = new TextEncoder();
  for (const piece of inventedRun({ seed: 7, length_min: 6, ...options })) reader.push(encoder.encode(piece));
  return reader.end();
}

export function inventedReading(options: Partial<Parameters<typeof inventedRun>[0]> = {}): RunReading {
  return readRun(inventedRecord(options));
}
