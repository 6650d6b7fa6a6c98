/**
 * Random files in which the odd variants mix (test/data/mixed-runs.ts), read by the fast scanner in any pieces, by the strict parser
 * and through gzip: the same answer, and the one that was written. Faults are told with their number and the first place.
 */
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type MixedRun, type MixedScan, mixedRun, type Variant } from '../../test/data/mixed-runs.ts';
import { runReader } from '../formats/run-reader.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { inflate } from './inflate.ts';
import { readRunStream } from './read-run.ts';

const RUNS = 150;
const SEED = 20_261;
/** Kinds of fault that the maker writes often; a time told twice is rarer. */
const FAULT_KINDS = 11;
/** Minutes times sixty: the last bits. */
const RELATIVE = 1e-12;
const ALL_VARIANTS: Variant[] = [
  'encoding',
  'prefix',
  'quotes',
  'CRLF',
  'comments',
  'entities',
  'CDATA',
  'groups',
  'integers',
  'numpress',
  'lines',
  'userParams',
  'index',
  'foreign',
  'empty',
  'spoiled',
];

interface Read {
  record: RunRecord;
  seen: { row: number; masses: number[]; intensities: number[] }[];
}

function readPieces(bytes: Uint8Array, pieceBytes: number, strict: boolean): Read {
  const seen: Read['seen'] = [];
  const reader = runReader({
    inflate,
    strict,
    onMs1: ({ row, mz, intensity }) => seen.push({ row, masses: [...mz], intensities: [...intensity] }),
  });
  for (let at = 0; at < bytes.length; at += pieceBytes) reader.push(bytes.subarray(at, at + pieceBytes));
  return { record: reader.end(), seen };
}

async function readPacked(bytes: Uint8Array, cuts: number[]): Promise<Read> {
  const seen: Read['seen'] = [];
  const places = [0, ...cuts.map((cut) => cut % bytes.length).sort((a, b) => a - b), bytes.length];
  const members = places.slice(1).map((end, k) => gzipSync(bytes.subarray(places[k]!, end)));
  async function* stream() {
    for (const member of members) yield member;
  }
  const { record } = await readRunStream(stream(), {
    onMs1: ({ row, mz, intensity }) => seen.push({ row, masses: [...mz], intensities: [...intensity] }),
  });
  return { record, seen };
}

function expectNear(found: number | undefined, wanted: number): void {
  if (Number.isNaN(wanted)) expect(found).toBeNaN();
  else expect(Math.abs(found! - wanted)).toBeLessThanOrEqual(RELATIVE * Math.abs(wanted));
}

function expectRows({ record, seen }: Read, scans: readonly MixedScan[]): void {
  const rows = scans.filter(({ level }) => level === 1);
  expect(record.ms1_count).toBe(rows.length);
  rows.forEach((scan, i) => {
    expectNear(record.time_s[i], scan.time_s);
    expectNear(record.tic_stated[i], scan.tic);
    expectNear(record.tic_summed[i], scan.summed ? scan.intensities.reduce((a, b) => a + b, 0) : Number.NaN);
    expectNear(record.injection_ms[i], scan.injection_ms);
    expect(record.polarity[i]).toBe(scan.polarity);
    expect(record.profile[i]).toBe(scan.profile);
    expect([record.window_low[i], record.window_high[i]]).toEqual([scan.low, scan.high]);
  });
  const followed = [...rows.entries()].filter(([, scan]) => scan.followed);
  expect(seen).toEqual(
    followed.map(([row, scan]) => ({ row, masses: scan.masses, intensities: scan.intensities })),
  );
}

function expectFaults({ warnings }: RunRecord, faults: MixedRun['faults']): void {
  expect(warnings).toHaveLength(faults.size);
  for (const [words, { count, first }] of faults) {
    const line = warnings.find((warning) => warning.includes(words));
    expect(line).toMatch(new RegExp(`^${count} `));
    expect(line).toContain(count === 1 ? `(spectrum ${first})` : `(the first: spectrum ${first})`);
  }
}

const met = new Map<Variant, number>();
const told = new Set<string>();

it('give what was written, by every way of reading', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.nat(1e9),
      fc.integer({ min: 1, max: 4000 }),
      fc.array(fc.nat(1e6), { maxLength: 4 }),
      async (seed, pieceBytes, cuts) => {
        const { bytes, scans, faults, met: variants } = mixedRun(seed);
        for (const variant of variants) met.set(variant, (met.get(variant) ?? 0) + 1);
        for (const words of faults.keys()) told.add(words);
        const strict = readPieces(bytes, bytes.length, true);
        expect(strict.record.broken).toBeUndefined();
        expectRows(strict, scans);
        expectFaults(strict.record, faults);
        expect(readPieces(bytes, bytes.length, false)).toEqual(strict);
        expect(readPieces(bytes, pieceBytes, false)).toEqual(strict);
        expect(await readPacked(bytes, cuts)).toEqual(strict);
      },
    ),
    { numRuns: RUNS, seed: SEED },
  );
  for (const variant of ALL_VARIANTS) expect(met.get(variant) ?? 0, variant).toBeGreaterThan(RUNS / 10);
  expect(told.size).toBeGreaterThanOrEqual(FAULT_KINDS);
});

it('give every row before a cut, anywhere, by every way of reading', async () => {
  let rowsKept = 0;
  fc.assert(
    fc.property(fc.nat(1e9), fc.integer({ min: 0, max: 999 }), (seed, thousandths) => {
      const { bytes, scans, ends } = mixedRun(seed);
      const from = Math.min(bytes.length - 1, Math.ceil((bytes.length * thousandths) / 1000));
      // Behind the head, where a cut file is still known for a run file.
      const start = Math.min(ends[0]!, bytes.length - 1);
      const cut = Math.max(from, start);
      const strict = readPieces(bytes.subarray(0, cut), cut, true);
      const whole = ends.filter((end) => end <= cut).length;
      expectRows(strict, scans.slice(0, whole));
      if (cut < bytes.length - 3) expect(strict.record.broken?.reason).toMatch(/^the file ends inside </);
      expect(readPieces(bytes.subarray(0, cut), 1000, false)).toEqual(strict);
      rowsKept += strict.record.ms1_count;
    }),
    { numRuns: RUNS, seed: SEED + 1 },
  );
  expect(rowsKept).toBeGreaterThan(2 * RUNS);
});
