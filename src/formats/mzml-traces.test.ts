/** Pressure and flow chromatograms in every packing, through groups, and spoiled: read whole, or left out and told. */
import { deflateSync, inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { base64, cv, MINUTE, mzml, mzmlSpectrum, packed, SECOND } from '../../test/data/made-runs.ts';
import { numpress } from '../../test/data/numpress.ts';
import { randomStream } from '../core/random.ts';
import { runReader } from './run-reader.ts';
import type { RunRecord } from './run-record.ts';

const POINTS = 50;
const draw = randomStream(3, 'pump');
/** Quarters of a minute and whole pressures: the same in every packing used here. */
const MINUTES = Array.from({ length: POINTS }, (_, i) => i / 4);
const PRESSURES = Array.from({ length: POINTS }, () => 1_000_000 + draw.index(5000));

function array(params: string, text: string): string {
  return `<binaryDataArray encodedLength="${text.length}">${params}<binary>${text}</binary></binaryDataArray>`;
}

const floats = cv('MS:1000523') + cv('MS:1000576');
const time = (values: readonly number[], unit: string = MINUTE, params = floats) =>
  array(cv('MS:1000595', '', unit) + params, base64(packed(values, 'float64')));
const pressure = (values: readonly number[]) =>
  array(`${cv('MS:1000821', '', 'UO:0000110')}${floats}`, base64(packed(values, 'float64')));

function chromatogram(arrays: string, params = cv('MS:1003019'), declared = POINTS): string {
  return `<chromatogram id="Pump of Someone" index="0" defaultArrayLength="${declared}">${params}<binaryDataArrayList count="2">${arrays}</binaryDataArrayList></chromatogram>`;
}

function read(chromatograms: readonly string[], groups = '', strict = false): RunRecord {
  const after = `<chromatogramList count="${chromatograms.length}">${chromatograms.join('\n')}</chromatogramList>`;
  const inflate = (bytes: Uint8Array, most: number) => inflateSync(bytes, { maxOutputLength: most });
  const reader = runReader({ inflate, strict });
  const spectrum = mzmlSpectrum({ params: cv('MS:1000285', '6') });
  reader.push(new TextEncoder().encode(mzml([spectrum], { after, groups })));
  return reader.end();
}

describe('a trace', () => {
  const group = (id: string, params: string) =>
    `<referenceableParamGroup id="${id}">${params}</referenceableParamGroup>`;
  const ref = (id: string) => `<referenceableParamGroupRef ref="${id}"/>`;
  const kind = cv('MS:1000821', '', 'UO:0000110');
  const type = (accession: string) => cv(accession) + cv('MS:1000576');
  it.each([
    ['as doubles', time(MINUTES) + pressure(PRESSURES)],
    ['values first', pressure(PRESSURES) + time(MINUTES)],
    [
      'times in seconds',
      time(
        MINUTES.map((minute) => 60 * minute),
        SECOND,
      ) + pressure(PRESSURES),
    ],
    [
      'values as integers of 32 bits',
      time(MINUTES) + array(kind + type('MS:1000519'), base64(packed(PRESSURES, 'int32'))),
    ],
    [
      'values as integers of 64 bits',
      time(MINUTES) + array(kind + type('MS:1000522'), base64(packed(PRESSURES, 'int64'))),
    ],
    [
      'values as floats of 32 bits in zlib',
      time(MINUTES) +
        array(kind + cv('MS:1000521') + cv('MS:1000574'), base64(deflateSync(packed(PRESSURES, 'float32')))),
    ],
    [
      'MS-Numpress linear times, pic values in zlib',
      array(
        cv('MS:1000595', '', MINUTE) + cv('MS:1000523') + cv('MS:1002312'),
        base64(numpress('linear', MINUTES, 4)),
      ) +
        array(kind + cv('MS:1000523') + cv('MS:1002747'), base64(deflateSync(numpress('pic', PRESSURES, 1)))),
    ],
    ['the array alone named as pressure', time(MINUTES) + pressure(PRESSURES), ''],
    ['values named as intensities', time(MINUTES) + pressure(PRESSURES).replace('MS:1000821', 'MS:1000515')],
  ])('is read: %s', (_name, arrays, ...params) => {
    for (const strict of [false, true]) {
      const run = read([chromatogram(arrays, ...params)], '', strict);
      expect(run.warnings).toEqual([]);
      expect(run.traces).toHaveLength(1);
      expect(run.traces[0]!.name).toBe('pressure');
      expect([...run.traces[0]!.time_s]).toEqual(MINUTES.map((minute) => 60 * minute));
      expect([...run.traces[0]!.value]).toEqual(PRESSURES);
    }
  });

  it('is read through groups for the chromatogram and its arrays', () => {
    const groups =
      group('kind', cv('MS:1003019')) +
      group('time', cv('MS:1000595', '', MINUTE) + floats) +
      group('value', kind + floats);
    const arrays =
      array(ref('time'), base64(packed(MINUTES, 'float64'))) +
      array(ref('value'), base64(packed(PRESSURES, 'float64')));
    const run = read([chromatogram(arrays, ref('kind'))], groups);
    expect(run.warnings).toEqual([]);
    expect([...run.traces[0]!.value]).toEqual(PRESSURES);
    expect(run.traces[0]!.time_s[4]).toBe(60);
  });

  it('without a unit is kept and told', () => {
    const run = read([
      chromatogram(time(MINUTES) + pressure(PRESSURES).replace(/ unitCvRef.*unitName="unit"/, '')),
    ]);
    expect([...run.traces[0]!.value]).toEqual(PRESSURES);
    expect(run.warnings).toEqual(['1 pressure or flow trace whose values have no unit (chromatogram 1).']);
  });

  it('of the ion current is none', () => {
    const arrays = time(MINUTES) + pressure(PRESSURES).replace('MS:1000821', 'MS:1000515');
    for (const params of [cv('MS:1000235'), '']) {
      const run = read([chromatogram(arrays, params)]);
      expect(run.traces).toEqual([]);
      expect(run.warnings).toEqual([]);
    }
  });

  const changed = (values: readonly number[], at: number, to: number) =>
    values.map((value, i) => (i === at ? to : value));
  it.each([
    ['fewer values than times', time(MINUTES) + pressure(PRESSURES.slice(1)), 'of equal length'],
    ['no times', pressure(PRESSURES), 'without readable times'],
    ['times in no unit', time(MINUTES, '') + pressure(PRESSURES), 'in a known unit'],
    ['damaged base64', time(MINUTES) + array(kind + floats, '!!!!'), 'without readable times'],
    ['a NaN', time(MINUTES) + pressure(changed(PRESSURES, 9, Number.NaN)), 'that is not a number'],
    ['an infinite value', time(MINUTES) + pressure(changed(PRESSURES, 9, -1 / 0)), 'that is not a number'],
    [
      'a time that is NaN',
      time(changed(MINUTES, 9, Number.NaN)) + pressure(PRESSURES),
      'that is not a number',
    ],
    ['times running backward', time(changed(MINUTES, 9, 0.5)) + pressure(PRESSURES), 'run backward'],
  ])('is left out and told: %s', (_name, arrays, words) => {
    const run = read([chromatogram(time(MINUTES) + pressure(PRESSURES)), chromatogram(arrays)]);
    expect(run.traces).toHaveLength(1);
    expect(run.warnings).toHaveLength(1);
    expect(run.warnings[0]).toMatch(/^1 pressure or flow trace /);
    expect(run.warnings[0]).toContain(words);
    expect(run.warnings[0]).toContain('; left out (chromatogram 2).');
  });

  it('is left out and told beyond 16, and where it is longer than all may be', () => {
    const one = chromatogram(time(MINUTES) + pressure(PRESSURES));
    const run = read(Array.from({ length: 19 }, () => one));
    expect(run.traces).toHaveLength(16);
    expect(run.traces[15]!.name).toBe('pressure 16');
    expect(run.warnings).toEqual([
      '3 pressure or flow traces beyond the 16 traces and 4 million points that are kept; left out (the first: chromatogram 17).',
    ]);
    const zeros = base64(deflateSync(new Uint8Array(8 * 5e6)));
    const long = (params: string) => array(params + cv('MS:1000523') + cv('MS:1000574'), zeros);
    const bomb = chromatogram(long(cv('MS:1000595', '', MINUTE)) + long(kind), cv('MS:1003019'), 5e6);
    const refused = read([one, bomb]);
    expect(refused.traces).toHaveLength(1);
    expect(refused.warnings).toHaveLength(1);
    expect(refused.warnings[0]).toContain('(chromatogram 2)');
  });
});
