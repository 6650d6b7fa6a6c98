/**
 * Random correct mzML and mzXML read four ways: our fast scanner, our strict parser, the npm package mzdata (in memory, all scans)
 * and, where Debian's Python has it, pymzML. All must tell the same times and arrays; none of the others saw ours. Then the same
 * over files in which the odd variants mix, as far as each reader knows them (found by trial on these files: mzdata 3.0.0 fails on
 * prefixes, groups, MS-Numpress, UTF-16, arrays broken into lines and some empty spectra; pymzML 2.5.2 here on single quotes,
 * groups, integers, MS-Numpress and UTF-16; ours reads them all, src/formats-node/mixed-runs.test.ts).
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { parseMZ } from 'mzdata';
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../src/core/random.ts';
import { runReader } from '../../src/formats/index.ts';
import { decodeBase64 } from '../../src/formats-node/base64.ts';
import { inflate } from '../../src/formats-node/index.ts';
import { mzxml, mzxmlScan } from '../data/made-runs.ts';
import { type MixedRun, mixedRun, type Variant } from '../data/mixed-runs.ts';
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

function ours(
  document: string | Uint8Array,
  strict: boolean,
  fastBase64: boolean,
  pieceBytes: number,
): Seen[] {
  const seen: Seen[] = [];
  const reader = runReader({
    inflate,
    strict,
    ...(fastBase64 ? { decodeBase64 } : {}),
    onMs1: ({ time_s, mz, intensity }) => seen.push({ time_s, masses: [...mz], intensities: [...intensity] }),
  });
  const bytes = typeof document === 'string' ? new TextEncoder().encode(document) : document;
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

const KNOWN_TO_MZDATA: Variant[] = [
  'quotes',
  'CRLF',
  'comments',
  'entities',
  'CDATA',
  'integers',
  'userParams',
  'foreign',
  'index',
];

/** What the writer put into the MS1 scans of a mixed run. */
function plainScans({ scans }: MixedRun): PlainScan[] {
  return scans.filter(({ level }) => level === 1);
}

it('mzdata tells the same where the variants that it knows mix', async () => {
  let compared = 0;
  const met = new Set<Variant>();
  await fc.assert(
    fc.asyncProperty(fc.nat(1e9), async (seed) => {
      const run = mixedRun(seed, KNOWN_TO_MZDATA);
      for (const variant of run.met) met.add(variant);
      expectScans(ours(run.bytes, false, true, 1 << 20), plainScans(run));
      const { series } = await parseMZ(run.bytes);
      expect(series.ms.data).toHaveLength(run.scans.length);
      series.ms.data.forEach(([masses, intensities], i) => {
        // It gives integers of 64 bits as such.
        expect([...masses].map(Number)).toEqual(run.scans[i]!.masses);
        expect([...intensities].map(Number)).toEqual(run.scans[i]!.intensities);
        compared += 1;
      });
    }),
    { numRuns: RUNS, seed: SEED },
  );
  expect([...met].sort()).toEqual([...KNOWN_TO_MZDATA].sort());
  expect(compared).toBeGreaterThan(2 * RUNS);
});

function mzxmlOf(seed: number): { document: string; scans: PlainScan[] } {
  const draw = randomStream(seed, 'plain mzXML');
  const isNested = draw.unit() < 0.5;
  const scans: PlainScan[] = [];
  const written: string[] = [];
  for (let i = 0; i < 2 + draw.index(10); i += 1) {
    const one = (level: number, nested: string) => {
      const count = 1 + draw.index(20);
      const scan = {
        level,
        time_s: i + draw.index(64) / 64,
        masses: Array.from({ length: count }, () => 350 + draw.index(9000) / 8).sort((a, b) => a - b),
        intensities: Array.from({ length: count }, () => draw.index(2 ** 20)),
      };
      const attributes = `msLevel="${level}" retentionTime="PT${scan.time_s}S" totIonCurrent="1"`;
      const pairs = scan.masses.map((mz, k) => [mz, scan.intensities[k]!] as const);
      const precision = draw.unit() < 0.5 ? 32 : 64;
      return { scan, text: mzxmlScan({ attributes, pairs, precision, zlib: draw.unit() < 0.5, nested }) };
    };
    const ms2 = [one(2, ''), one(2, '')].slice(0, draw.index(3));
    const inside = ms2.map(({ text }) => text).join('');
    const ms1 = one(1, isNested ? inside : '');
    scans.push(ms1.scan, ...ms2.map(({ scan }) => scan));
    written.push(ms1.text, ...(isNested ? [] : [inside]));
  }
  return { document: mzxml(written), scans };
}

it('mzdata tells the same of random mzXML, nested or not', async () => {
  let compared = 0;
  await fc.assert(
    fc.asyncProperty(fc.nat(1e9), fc.integer({ min: 1, max: 4000 }), async (seed, pieceBytes) => {
      const { document, scans } = mzxmlOf(seed);
      const ms1 = scans.filter(({ level }) => level === 1);
      expectScans(ours(document, false, true, pieceBytes), ms1);
      expectScans(ours(document, true, false, document.length), ms1);
      // That package leaves nested scans out.
      const theirs = document.includes('</peaks><scan') ? ms1 : scans;
      const { times, series } = await parseMZ(document);
      expect(times).toHaveLength(theirs.length);
      series.ms.data.forEach(([masses, intensities], i) => {
        expectScans(
          [{ time_s: times[i]!, masses: [...masses], intensities: [...intensities] }],
          [theirs[i]!],
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

const KNOWN_TO_PYMZML: Variant[] = ['prefix', 'CRLF', 'comments', 'entities', 'CDATA', 'lines', 'foreign'];
const PYTHON_FILES = 8;

function expectPymzml(
  files: readonly { document: string | Uint8Array; scans: readonly PlainScan[] }[],
): void {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-pymzml-'));
  try {
    const paths = files.map((_, i) => join(folder, `${i}.mzML`));
    files.forEach(({ document }, i) => {
      writeFileSync(paths[i]!, document);
    });
    const { stdout, stderr } = spawnSync(PYTHON, ['-c', PROGRAM, ...paths], { encoding: 'utf8' });
    const told = stdout.split('end\n').slice(0, -1);
    expect(told, stderr).toHaveLength(files.length);
    told.forEach((file, i) => {
      // It also prints remarks of its own.
      const rows = file.split('\n').filter((line) => /^\d[^a-z]* /.test(line));
      const scans = ours(files[i]!.document, false, true, 1 << 20);
      expectScans(scans, files[i]!.scans);
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
}

describe.skipIf(!hasPymzml)(`pymzML${absent}`, () => {
  const seeds = Array.from({ length: PYTHON_FILES }, (_, i) => i + 1);

  it('tells the same times and sums', () => {
    expectPymzml(
      seeds.map((seed) => {
        const { document, scans } = plainRunOf(seed);
        return { document, scans: scans.filter(({ level }) => level === 1) };
      }),
    );
  });

  it('tells the same where the variants that it knows mix', () => {
    const runs = seeds.map((seed) => mixedRun(seed, KNOWN_TO_PYMZML));
    const met = new Set(runs.flatMap((run) => [...run.met]));
    expect([...met].sort()).toEqual([...KNOWN_TO_PYMZML].sort());
    expectPymzml(runs.map((run) => ({ document: run.bytes, scans: plainScans(run) })));
  });
});
