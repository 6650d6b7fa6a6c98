/** A run held in memory: its record and its MS1 spectra, read by the ordinary reader and read again as often as wanted. */
import { existsSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { type RunReading, readRun, runWitnesses, type SeenSpectrum } from '../../src/evidence/index.ts';
import { type RunRecord, runReader } from '../../src/formats/index.ts';
import { inflate } from '../../src/formats-node/index.ts';

export interface MemoryRun {
  name: string;
  record: RunRecord;
  spectra: SeenSpectrum[];
  span_s: number;
}

export function loadRun(path: string, name: string): MemoryRun | undefined {
  if (!existsSync(path)) return undefined;
  const stored = readFileSync(path);
  const bytes = stored[0] === 0x1f && stored[1] === 0x8b ? gunzipSync(stored) : stored;
  const spectra: SeenSpectrum[] = [];
  const options = {
    inflate,
    onMs1: (seen: SeenSpectrum) => {
      spectra.push({ ...seen, mz: seen.mz.slice(), intensity: seen.intensity.slice() });
    },
  };
  const reader = runReader(options);
  reader.push(bytes);
  const record = reader.end();
  return { name, record, spectra, span_s: spanOf(record) };
}

export function spanOf(record: RunRecord): number {
  return record.time_s[record.ms1_count - 1]! - record.time_s[0]!;
}

export function readAgain(run: MemoryRun): RunReading {
  const witnesses = runWitnesses();
  for (const spectrum of run.spectra) witnesses.see(spectrum);
  return readRun(run.record, { witnesses: witnesses.finish() });
}
