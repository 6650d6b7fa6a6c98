/**
 * Random correct mzML read four ways: our fast scanner, our strict parser, the npm package mzdata (in memory, all scans) and,
 * where Debian's Python has it, pymzML. All must tell the same times and arrays; none of the others saw ours.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { parseMZ } from 'mzdata';
import { describe, expect, it } from 'vitest';
import { runReader } from '../../src/formats/index.ts';
import { decodeBase64 } from '../../src/formats-node/base64.ts';
import { inflate } from '../../src/formats-node/index.ts';
import { type PlainScan, plainRunOf } from '../data/plain-runs.ts';

const RUNS = 100;
const SEED = 1905;
/** Times pass through minutes, sums are taken in another order: a few last bits. */
const RELATIVE = 1e-12;
/** The Python reader prints with nine digits; single precision passes through its numpy sums as doubles. */
const PRINTED = 1e-8;

interface Seen {
  time_s: number;
  masses: number[];
  intensities: number[];
}

function ours(document: string, strict: boolean, fastBase64: boolean, pieceBytes: number): Seen[] {
  const seen: Seen[] = [];
  const reader = runReader({
    inflate,
    strict,
    ...(fastBase64 ? { decodeBase64 } : {}),
    onMs1: ({ time_s, mz, intensity }) => seen.push({ time_s, masses: [...mz], intensities: [...intensity] }),
  });
  const bytes = new TextEncoder().encode(document);
  for (let at = 0; at < bytes.length; at += pieceBytes) reader.push(bytes.subarray(at, at + pieceBytes));
  const { broken, ms1_count, tic_summed } = reader.end();
  expect(broken).toBeUndefined();
  expect(seen).toHaveLength(ms1_count);
  for (let i = 0; i < ms1_count; i += 1) expectNear(tic_summed[i]!, total(seen[i]!.intensities));
  return seen;
}

function total(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0);
}

function expectNear(value: number, expected: number, tolerance = RELATIVE): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance * Math.abs(expected));
}

function expectScans(seen: readonly Seen[], scans: readonly PlainScan[]): void {
  expect(seen).toHaveLength(scans.length);
  seen.forEach((scan, i) => {
    expectNear(scan.time_s, scans[i]!.time_s);
    expect(scan.masses).toEqual(scans[i]!.masses);
    expect(scan.intensities).toEqual(scans[i]!.intensities);
  });
}

it('fast scanner, strict parser and npm mzdata tell the same of random correct files', async () => {
  let compared = 0;
  await fc.assert(
    fc.asyncProperty(fc.nat(1e9), fc.integer({ min: 1, max: 4000 }), async (seed, pieceBytes) => {
      const { document, scans } = plainRunOf(seed);
      const ms1 = scans.filter(({ level }) => level === 1);
      expectScans(ours(document, true, false, document.length), ms1);
      expectScans(ours(document, false, true, document.length), ms1);
      expectScans(ours(document, false, false, pieceBytes), ms1);
      const { times, series } = await parseMZ(document);
      expect(times).toHaveLength(scans.length);
      series.ms.data.forEach(([masses, intensities], i) => {
        const scan = scans[i]!;
        // That package gives times in the unit of the file.
        const unit_s = document.includes('unitName="minute"') ? 60 : 1;
        expectScans(
          [{ time_s: times[i]! * unit_s, masses: [...masses], intensities: [...intensities] }],
          [scan],
        );
        compared += 1;
      });
    }),
    { numRuns: RUNS, seed: SEED },
  );
  expect(compared).toBeGreaterThan(2 * RUNS);
});

const PYTHON = '/usr/bin/python3';
const PROGRAM = `import sys, pymzml.run
for path in sys.argv[1:]:
    for s in pymzml.run.Reader(path):
        if s.ms_level == 1:
            print('%.9g %.9g %.9g' % (60 * s.scan_time_in_minutes(), s.mz.sum(dtype='float64'), s.i.sum(dtype='float64')))
    print('end')
`;
const hasPymzml = spawnSync(PYTHON, ['-c', 'import pymzml'], { stdio: 'ignore' }).status === 0;
const absent = hasPymzml ? '' : ' (SKIPPED: pymzML is absent on this machine)';

describe.skipIf(!hasPymzml)(`pymzML${absent}`, () => {
  it('tells the same times and sums', () => {
    const folder = mkdtempSync(join(tmpdir(), 'steadycone-pymzml-'));
    try {
      const seeds = [1, 2, 3, 4, 5, 6, 7, 8];
      const paths = seeds.map((seed) => join(folder, `${seed}.mzML`));
      seeds.forEach((seed, i) => {
        writeFileSync(paths[i]!, plainRunOf(seed).document);
      });
      const { stdout, stderr } = spawnSync(PYTHON, ['-c', PROGRAM, ...paths], { encoding: 'utf8' });
      const files = stdout.split('end\n').slice(0, -1);
      expect(files, stderr).toHaveLength(seeds.length);
      files.forEach((file, i) => {
        // It also prints remarks of its own.
        const rows = file.split('\n').filter((line) => /^\d[^a-z]* /.test(line));
        const scans = ours(plainRunOf(seeds[i]!).document, false, true, 1 << 20);
        expect(rows).toHaveLength(scans.length);
        rows.forEach((row, k) => {
          const [time_s, masses, intensities] = row.split(' ').map(Number);
          expectNear(time_s!, scans[k]!.time_s, PRINTED);
          expectNear(masses!, total(scans[k]!.masses), PRINTED);
          expectNear(intensities!, total(scans[k]!.intensities), PRINTED);
        });
      });
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
