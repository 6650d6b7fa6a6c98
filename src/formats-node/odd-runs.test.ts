/** Every odd variant of a run (test/data/odd-runs.ts): means the same, or is told, cut or refused; never taken silently. */
import { gunzipSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { type OddRun, oddMzxml, oddRuns, plainMzxml, plainRun, SCANS } from '../../test/data/odd-runs.ts';
import { InputError } from '../core/errors.ts';
import { randomStream } from '../core/random.ts';
import { runReader } from '../formats/run-reader.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { inflate } from './inflate.ts';
import { readRunStream } from './read-run.ts';

const SEED = 4711;
/** Times given once in minutes and once in seconds differ by rounding. */
const TIME_DIGITS = 9;

interface Read {
  record: RunRecord;
  /** Of every spectrum handed on: its row, and the sums of its arrays. */
  seen: [number, number, number][];
}

const total = (values: Float64Array) => values.reduce((a, b) => a + b, 0);

async function read(bytes: Uint8Array): Promise<Read> {
  const seen: Read['seen'] = [];
  async function* whole() {
    yield bytes;
  }
  const { record } = await readRunStream(whole(), {
    onMs1: ({ row, mz, intensity }) => seen.push([row, total(mz), total(intensity)]),
  });
  return { record, seen };
}

function readPieces(bytes: Uint8Array, pieceBytes: () => number, strict: boolean): Read | string {
  const seen: Read['seen'] = [];
  const reader = runReader({
    inflate,
    strict,
    onMs1: ({ row, mz, intensity }) => seen.push([row, total(mz), total(intensity)]),
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

const variants = [...oddRuns(SEED), ...oddMzxml(SEED)];
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
        return;
      }
      expect(record.broken).toBeUndefined();
      if ('same' in outcome) {
        expect(record.warnings).toEqual([]);
        expect(record.analysers).toEqual(plain.record.analysers);
        expect(record.spectra_by_level).toEqual(plain.record.spectra_by_level);
        for (const column of COLUMNS) {
          expect(record[column]).toHaveLength(SCANS);
          for (let i = 0; i < SCANS; i += 1)
            expect(record[column][i]).toBeCloseTo(plain.record[column][i]!, TIME_DIGITS);
        }
        expect(seen.map(([row, , sum]) => [row, sum])).toEqual(plain.seen.map(([row, , sum]) => [row, sum]));
        return;
      }
      expect(record.ms1_count).toBe(outcome.rows ?? SCANS);
      expect(record.warnings).toHaveLength(1);
      expect(record.warnings[0]).toMatch(outcome.told);
      if (outcome.empty === undefined) return;
      spoiledValues.add(outcome.empty);
      for (const column of ['time_s', 'tic_stated', 'tic_summed', 'injection_ms'] as const) {
        const empty = [...record[column]].filter(Number.isNaN).length;
        expect(empty).toBe(column === outcome.empty ? 1 : 0);
      }
    },
  );

  it('knows the variants that leave each of four columns empty', () => {
    expect([...spoiledValues].sort()).toEqual(['injection_ms', 'tic_stated', 'tic_summed', 'time_s']);
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
  it.each(variants.map((variant) => [variant.name, variant] as const))(
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
