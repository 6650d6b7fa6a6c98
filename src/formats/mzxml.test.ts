import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { mzxml, mzxmlScan } from '../../test/data/made-runs.ts';
import { runReader } from './run-reader.ts';
import type { RunRecord } from './run-record.ts';

function read(file: string, pieceBytes = 1 << 20): RunRecord {
  const bytes = new TextEncoder().encode(file);
  const reader = runReader({ inflate: (packed, max) => inflateSync(packed, { maxOutputLength: max }) });
  for (let at = 0; at < bytes.length; at += pieceBytes) reader.push(bytes.subarray(at, at + pieceBytes));
  return reader.end();
}

describe('mzXML', () => {
  it('reads what a scan states', () => {
    const attributes =
      'msLevel="1" retentionTime="PT2M1.5S" totIonCurrent="3.3e1" polarity="-" basePeakIntensity="20" ionInjectionTime="4.5" centroided="0" lowMz="100" highMz="101" startMz="90" endMz="900" filterLine="FTMS - p NSI Full ms"';
    const run = read(mzxml([mzxmlScan({ attributes }), mzxmlScan()]));
    expect(run.format).toBe('mzXML');
    expect(run.broken).toBeUndefined();
    expect(run.warnings).toContain(
      '1 MS1 spectrum with a scan start time before that of the MS1 spectrum ahead of it, kept as stated (spectrum 2).',
    );
    expect([...run.time_s]).toEqual([121.5, 1.5]);
    expect([...run.tic_stated]).toEqual([33, 33]);
    expect([...run.tic_summed]).toEqual([30, 30]);
    expect([...run.polarity]).toEqual([-1, 1]);
    expect(run.injection_ms[0]).toBe(4.5);
    expect([...run.profile]).toEqual([1, 0]);
    expect([...run.window_low]).toEqual([90, Number.NaN]);
    expect([...run.window_high]).toEqual([900, Number.NaN]);
    expect(run.analysers[run.analyser[0]!]).toBe('FTMS');
    expect([...run.peak_count]).toEqual([2, 2]);
  });

  it.each([
    [32, false],
    [32, true],
    [64, false],
    [64, true],
  ] as const)('sums %i-bit pairs (zlib: %s)', (precision, zlib) => {
    expect(read(mzxml([mzxmlScan({ precision, zlib })])).tic_summed[0]).toBe(30);
  });

  it('keeps the order of the file when scans are nested, and skips the nested MS2', () => {
    const at = (level: number, time: number) =>
      `msLevel="${level}" retentionTime="PT${time}S" totIonCurrent="1"`;
    const nested = mzxmlScan({ attributes: at(2, 2), pairs: [[1, 7]] });
    const file = mzxml([mzxmlScan({ attributes: at(1, 1), nested }), mzxmlScan({ attributes: at(1, 3) })]);
    for (const pieceBytes of [1, 1 << 20]) {
      const run = read(file, pieceBytes);
      expect(run.spectra_by_level).toEqual([0, 2, 1]);
      expect([...run.time_s]).toEqual([1, 3]);
      expect([...run.tic_summed]).toEqual([30, 30]);
      expect(run.warnings).toEqual([]);
    }
    const cut = read(file.slice(0, file.lastIndexOf('<peaks')));
    expect([...cut.time_s]).toEqual([1]);
    expect(cut.broken?.reason).toBe('the file ends inside <scan>');
  });

  it('reads scans nested three deep', () => {
    const at = (level: number, time: number) =>
      `msLevel="${level}" retentionTime="PT${time}S" totIonCurrent="1"`;
    const ms3 = mzxmlScan({ attributes: at(3, 3) });
    const ms2 = mzxmlScan({ attributes: at(2, 2), nested: ms3 });
    const run = read(mzxml([mzxmlScan({ attributes: at(1, 1), nested: ms2 + ms2 }), mzxmlScan()]));
    expect(run.spectra_by_level).toEqual([0, 2, 2, 2]);
    expect([...run.time_s]).toEqual([1, 1.5]);
    expect([...run.tic_summed]).toEqual([30, 30]);
    expect(run.warnings).toEqual([]);
  });

  it('tells of missing and unreadable times, and of a foreign byte order', () => {
    const scan = (attributes: string, peaksAttributes?: string) =>
      mzxmlScan({
        attributes: `msLevel="1" totIonCurrent="1" ${attributes}`,
        ...(peaksAttributes === undefined ? {} : { peaksAttributes }),
      });
    const run = read(
      mzxml([
        scan(''),
        scan('retentionTime="12.5"'),
        scan('retentionTime="PT1,5S"'),
        scan('retentionTime="PT1S"', 'byteOrder="little"'),
      ]),
    );
    expect([...run.time_s]).toEqual([Number.NaN, Number.NaN, Number.NaN, 1]);
    expect(run.warnings).toEqual([
      '1 MS1 spectrum without a scan start time; the time is left empty (spectrum 1).',
      '1 MS1 spectrum with a scan start time in no unit or an unknown one; the time is left empty (spectrum 2).',
      '1 MS1 spectrum with a scan start time that is not a number; the time is left empty (spectrum 3).',
      '1 peak list in a byte order other than network; the sum is left empty (spectrum 4).',
    ]);
    expect(run.tic_summed[3]).toBeNaN();
  });
});
