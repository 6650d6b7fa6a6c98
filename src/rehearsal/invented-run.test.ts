import { SaxesParser } from 'saxes';
import { expect, test } from 'vitest';
import { runReader } from '../formats/index.ts';
import { inflate } from '../formats-node/index.ts';
import { base64 } from './base64.ts';
import { inventedRun, inventedRunTruth } from './index.ts';

/** Largest file the demo may write. */
const MOST_BYTES = 6e6;

function text(options: Parameters<typeof inventedRun>[0]): string {
  return [...inventedRun(options)].join('');
}

test('base64 is that of the platform for every remainder', () => {
  for (let length = 0; length < 40; length++) {
    const bytes = Uint8Array.from({ length }, (_, i) => (i * 37 + length * 11) & 255);
    expect(base64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
  }
});

test('one seed gives one file, another seed another', () => {
  const options = { length_min: 1 };
  expect(text({ seed: 4, ...options })).toBe(text({ seed: 4, ...options }));
  expect(text({ seed: 4, ...options })).not.toBe(text({ seed: 5, ...options }));
});

test('the file is well-formed, counts what it holds and keeps the order of mzML 1.1', () => {
  const xml = text({ seed: 7, length_min: 3 });
  const opened: string[] = [];
  let depth = 0;
  let spectra = 0;
  let counted = 0;
  let run = 0;
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag) => {
    depth++;
    const attributes = tag.attributes as Record<string, string>;
    if (depth === 2) opened.push(tag.name);
    if (tag.name === 'spectrum') expect(Number(attributes.index)).toBe(spectra++);
    if (tag.name === 'spectrumList') {
      counted = Number(attributes.count);
      expect(attributes.defaultDataProcessingRef).toBe('invention');
    }
    if (tag.name === 'userParam' && attributes.name === 'invented data') {
      run++;
      expect(attributes.value).toBe('made by steadycone rehearsal, seed 7; not a measurement');
    }
  });
  parser.on('closetag', () => {
    depth--;
  });
  parser.write(xml).close();
  expect(opened).toEqual([
    'cvList',
    'fileDescription',
    'softwareList',
    'instrumentConfigurationList',
    'dataProcessingList',
    'run',
  ]);
  expect(counted).toBe(spectra);
  expect(spectra).toBeGreaterThan(120);
  expect(run).toBe(2);
});

test('our reader finds in the file what the truth says, and the mark', () => {
  const options = { seed: 7 };
  const xml = text(options);
  expect(xml.length).toBeLessThan(MOST_BYTES);
  const truth = inventedRunTruth(options);
  const reader = runReader({ inflate });
  reader.push(new TextEncoder().encode(xml));
  const record = reader.end();
  expect(record.warnings).toEqual([]);
  expect(record.broken).toBeUndefined();
  expect(record.invented).toBe(true);
  expect(record.ms1_count).toBe(800);
  expect(record.spectra_by_level[2]).toBeGreaterThan(20);
  truth.time_s.forEach((time_s, i) => {
    // Written with seven decimals of a minute, nine digits of a level and four of a fill.
    expect(Math.abs(record.time_s[i]! - time_s)).toBeLessThan(1e-5);
    expect(Math.abs(record.tic_stated[i]! / truth.level[i]! - 1)).toBeLessThan(1e-8);
    expect(Math.abs(record.injection_ms[i]! - truth.injection_ms[i]!)).toBeLessThan(1e-4);
    // Peaks are 32-bit, and the faintest are left out of the list.
    expect(Math.abs(record.tic_summed[i]! / truth.level[i]! - 1)).toBeLessThan(5e-3);
  });
});

test('the planted faults are one sag and three dropouts that do not meet, or none', () => {
  for (let seed = 1; seed <= 50; seed++) {
    const { faults, injection_ms } = inventedRunTruth({ seed });
    expect(faults.map((fault) => fault.kind).sort()).toEqual(['dropout', 'dropout', 'dropout', 'sag']);
    for (let i = 1; i < faults.length; i++) {
      expect(faults[i]!.start_s - faults[i - 1]!.end_s).toBeGreaterThan(60);
    }
    expect(Math.max(...injection_ms)).toBe(50);
    expect(inventedRunTruth({ seed, faults: 'none' }).faults).toEqual([]);
  }
});

test('the liquid of an infusion stays the same, that of a gradient does not', () => {
  const level = (peaks: number) =>
    inventedRunTruth({ seed: 7, peaks, scatter: 0, faults: 'none', length_min: 5 }).level;
  expect(new Set(level(0)).size).toBe(1);
  const [, ...rising] = level(1);
  expect(rising.at(-60)!).toBeGreaterThan(1.2 * rising[0]!);
});

test('a rehearsed signal sets the scans and moves all ions of each', () => {
  const spray = [1, 0.5, 0, 1];
  const { level, faults } = inventedRunTruth({ seed: 7, ms1_interval_s: 1, peaks: 0, spray });
  const whole = inventedRunTruth({ seed: 7, ms1_interval_s: 1, peaks: 0, spray: [1, 1, 1, 1] }).level;
  expect(level.length).toBe(4);
  expect(faults).toEqual([]);
  // What is counted without spray stands below every level.
  const dark = level[2]!;
  expect(dark).toBeLessThan(1e-3 * level[0]!);
  expect((level[1]! - dark) / (whole[1]! - dark)).toBeCloseTo(0.5, 10);
});
