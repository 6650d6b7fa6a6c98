/** Every odd variant of a run (test/data/odd-runs.ts): means the same, or is told, cut or refused; never taken silently. */
import { gunzipSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { hostileMzxml, hostileRuns } from '../../test/data/hostile-runs.ts';
import {
  type OddRun,
  oddMzxml,
  oddRuns,
  plainMzxml,
  plainRun,
  SCANS,
  SPOILED_PLACE,
} from '../../test/data/odd-runs.ts';
import { InputError } from '../core/errors.ts';
import { randomStream } from '../core/random.ts';
import { runReader } from '../formats/run-reader.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { inflate, unzstd } from './inflate.ts';
import { readRunStream } from './read-run.ts';

const SEED = 4711;
/** Times given once in minutes and once in seconds differ by rounding. */
const TIME_DIGITS = 9;

interface Read {
  record: RunRecord;
  /** Of every spectrum handed on: its row, and the digests of its arrays. */
  seen: [number, number, number][];
}

/** A sum that tells another order and another length. */
const digest = (values: Float64Array) =>
  values.reduce((sum, value, i) => sum + value * (i + 1), values.length);

async function read(bytes: Uint8Array): Promise<Read> {
  const seen: Read['seen'] = [];
  async function* whole() {
    yield bytes;
  }
  const { record } = await readRunStream(whole(), {
    onMs1: ({ row, mz, intensity }) => seen.push([row, digest(mz), digest(intensity)]),
  });
  return { record, seen };
}

function readPieces(bytes: Uint8Array, pieceBytes: () => number, strict: boolean): Read | string {
  const seen: Read['seen'] = [];
  const reader = runReader({
    inflate,
    unzstd,
    strict,
    onMs1: ({ row, mz, intensity }) => seen.push([row, digest(mz), digest(intensity)]),
  });
  try {
    for (let at = 0; at < bytes.length; ) {
      const end = at + pieceBytes();
      reader.push(bytes.subarray(at, end));
      at = end;
    }
    return { record: reader.end(), seen };
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

const COLUMNS = [
  'time_s',
  'tic_stated',
  'tic_summed',
  'injection_ms',
  'polarity',
  'window_low',
  'window_high',
  'profile',
] as const;

const EMPTIED = ['time_s', 'tic_stated', 'tic_summed', 'injection_ms', 'window_low', 'window_high'] as const;
const zstdHere = unzstd !== undefined;
const variants = [...oddRuns(SEED), ...hostileRuns(SEED, zstdHere), ...oddMzxml(SEED), ...hostileMzxml(SEED)];
const spoiledValues = new Set<string>();

describe('a run written otherwise or spoiled', () => {
  it.each(variants.map((variant) => [variant.name, variant] as const))(
    '%s',
    async (name, { bytes, outcome }) => {
      const plain = await read(name.startsWith('mzXML') ? plainMzxml(SEED) : plainRun(SEED));
      expect(plain.record.ms1_count).toBe(SCANS);
      expect(plain.record.warnings).toEqual([]);
      expect(plain.seen).toHaveLength(SCANS);
      if ('refused' in outcome) {
        const refusal = await read(bytes).catch((error: unknown) => error);
        expect(refusal).toBeInstanceOf(InputError);
        expect((refusal as Error).message).toMatch(outcome.refused);
        return;
      }
      const { record, seen } = await read(bytes);
      if ('broken' in outcome) {
        expect(record.broken?.reason).toMatch(outcome.broken);
        if (outcome.rows >= 0) expect(record.ms1_count).toBe(outcome.rows);
        else expect(record.ms1_count).toBeLessThanOrEqual(SCANS);
        expect([...record.tic_summed]).toEqual([...plain.record.tic_summed].slice(0, record.ms1_count));
        expect(seen).toEqual(plain.seen.slice(0, record.ms1_count));
        expect(record.broken!.byte).toBeGreaterThan(0);
        return;
      }
      expect(record.broken).toBeUndefined();
      if ('same' in outcome) {
        expect(record.warnings).toEqual([]);
        expect(record.analysers).toEqual(plain.record.analysers);
        expect(record.spectra_by_level).toEqual(plain.record.spectra_by_level);
        for (const column of COLUMNS) {
          expect(record[column]).toHaveLength(SCANS);
          for (let i = 0; i < SCANS; i += 1) {
            const lossy = column === 'tic_summed' ? (outcome.lossy ?? 0) : 0;
            const apart = Math.abs(record[column][i]! - plain.record[column][i]!);
            expect(apart).toBeLessThanOrEqual(lossy * plain.record[column][i]! + 10 ** -TIME_DIGITS);
          }
        }
        if (outcome.lossy === undefined) expect(seen).toEqual(plain.seen);
        else {
          expect(seen).toHaveLength(SCANS);
          seen.forEach(([row, mz, intensity], i) => {
            expect(row).toBe(plain.seen[i]![0]);
            expect(Math.abs(mz / plain.seen[i]![1] - 1)).toBeLessThanOrEqual(outcome.lossy!);
            expect(Math.abs(intensity / plain.seen[i]![2] - 1)).toBeLessThanOrEqual(outcome.lossy!);
          });
        }
        return;
      }
      expect(record.ms1_count).toBe(outcome.rows ?? SCANS);
      expect(record.warnings).toHaveLength(1);
      expect(record.warnings[0]).toMatch(outcome.told);
      const place = outcome.place ?? SPOILED_PLACE;
      if (place === '') expect(record.warnings[0]).not.toMatch(/\((the first: )?(spectrum|chromatogram) /);
      else expect(record.warnings[0]).toContain(`${place}.`);
      if (outcome.rows !== undefined) return;
      if (outcome.empty !== undefined) spoiledValues.add(outcome.empty);
      for (const column of EMPTIED) {
        const empty = [...record[column]].filter(Number.isNaN).length;
        const before = [...plain.record[column]].filter(Number.isNaN).length;
        expect(empty - before).toBe(column === outcome.empty ? 1 : 0);
      }
    },
  );

  it('knows the variants that leave a value of each column empty', () => {
    expect([...spoiledValues].sort()).toEqual([...EMPTIED].sort());
  });
});

describe('files cut anywhere', () => {
  it.each([
    ['mzML', plainRun(SEED)],
    ['mzXML', plainMzxml(SEED)],
  ])('%s keeps the rows before the cut, plain and gzipped', async (_name, bytes) => {
    const whole = (await read(bytes)).record;
    let most = 0;
    for (const file of [bytes, gzipSync(bytes)]) {
      for (let cut = 200; cut < file.length - 9; cut += Math.ceil(file.length / 60)) {
        const { record, seen } = await read(file.subarray(0, cut));
        expect(record.broken?.reason).toMatch(/^the file ends /);
        expect([...record.tic_summed]).toEqual([...whole.tic_summed].slice(0, record.ms1_count));
        expect(seen).toHaveLength(record.ms1_count);
        most = Math.max(most, record.ms1_count);
      }
    }
    expect(most).toBeGreaterThanOrEqual(SCANS - 2);
  });
});

describe('the fast way and the strict way', () => {
  const unpacked = ({ bytes }: OddRun): Uint8Array => {
    try {
      return bytes[0] === 0x1f ? gunzipSync(bytes) : bytes;
    } catch {
      return new Uint8Array(0);
    }
  };
  it.each(variants.filter(({ bomb }) => !bomb).map((variant) => [variant.name, variant] as const))(
    'give the same for %s, in pieces of any size',
    (name, variant) => {
      const bytes = unpacked(variant);
      const draw = randomStream(SEED, name);
      const whole = readPieces(bytes, () => bytes.length + 1, true);
      for (const size of [() => bytes.length + 1, () => 1 + draw.index(5000), () => 997]) {
        expect(readPieces(bytes, size, false)).toEqual(whole);
      }
    },
  );
});
