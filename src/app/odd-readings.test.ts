/**
 * Odd and hostile runs through the whole reading, as `read FILE` and the page do it: a reading in plain JSON that carries every
 * warning and break on, or one refusal.
 */
import { describe, expect, it } from 'vitest';
import { hostileMzxml, hostileRuns } from '../../test/data/hostile-runs.ts';
import { oddMzxml, oddRuns, plainRun, written } from '../../test/data/odd-runs.ts';
import { jsonFault } from '../../test/kit/made-record.ts';
import { InputError } from '../core/errors.ts';
import { readingCsv, readingText } from '../evidence/index.ts';
import { readRunStream as readRecord } from '../formats-node/index.ts';
import { inventedRun } from '../rehearsal/index.ts';
import { readRunStream } from './read-one-run.ts';

const SEED = 4711;

async function* whole(bytes: Uint8Array) {
  yield bytes;
}

const variants = [
  ...oddRuns(SEED),
  ...hostileRuns(SEED, false),
  ...oddMzxml(SEED),
  ...hostileMzxml(SEED),
].filter(({ bomb, name }) => !bomb && !/^(zstd|gzip)/.test(name));

describe('the whole reading of a run written otherwise or spoiled', () => {
  it.each(variants.map((variant) => [variant.name, variant] as const))('%s', async (_name, variant) => {
    const { bytes, outcome } = variant;
    if ('refused' in outcome) {
      const refusal = await readRunStream(whole(bytes), 'run').catch((error: unknown) => error);
      expect(refusal).toBeInstanceOf(InputError);
      expect((refusal as InputError).faults).toHaveLength(1);
      return;
    }
    const { record } = await readRecord(whole(bytes));
    const { reading, metrics } = await readRunStream(whole(bytes), 'run');
    expect(jsonFault(reading)).toBeUndefined();
    expect(jsonFault(metrics)).toBeUndefined();
    expect(reading.ms1_count).toBe(record.ms1_count);
    expect(reading.warnings).toEqual(expect.arrayContaining(record.warnings));
    expect(reading.broken).toEqual(record.broken);
    const text = readingText(reading);
    if ('told' in outcome) expect(text).toMatch(outcome.told);
    if ('broken' in outcome) expect(text).toContain(`Broken at byte ${record.broken!.byte}: `);
    expect(readingCsv(reading)).not.toMatch(/NaN|Infinity|undefined/);
  });
});

describe('a run file without what is followed', () => {
  const document = new TextDecoder().decode(plainRun(SEED));
  const noSpectra = document.replace(/<spectrumList[\s\S]*<\/spectrumList>/, '');
  const empty = written(SEED, (parts) => ({ ...parts, masses: [], intensities: [] }));
  it.each([
    ['chromatograms only', noSpectra, 'the file holds no MS1 scan with a time and a level'],
    [
      'MS2 only',
      document.replaceAll(
        'accession="MS:1000511" name="n" value="1"',
        'accession="MS:1000511" name="n" value="2"',
      ),
      'the file holds no MS1 scan',
    ],
    [
      'no time anywhere',
      document.replaceAll('MS:1000016', 'MS:1000015'),
      '24 MS1 spectra without a scan start time',
    ],
    [
      'no level anywhere',
      document.replaceAll('MS:1000511', 'MS:1000510'),
      '72 spectra without a readable MS level; left out of the MS1 rows (the first: spectrum 1)',
    ],
    ['every scan without a peak', empty, '24 MS1 scans'],
    [
      'the elements of an older version',
      document
        .replaceAll('<scanList', '<spectrumDescription><scanList')
        .replaceAll('</scanList>', '</scanList></spectrumDescription>')
        .replace('version="1.1.0"', 'version="0.99.1"'),
      '24 MS1 scans',
    ],
    [
      'no instrument at all',
      document.replace(' defaultInstrumentConfigurationRef="IC1"', ''),
      '24 MS1 scans',
    ],
  ])('%s', async (_name, text, words) => {
    const { reading, metrics } = await readRunStream(whole(new TextEncoder().encode(text)), 'run');
    expect(jsonFault(reading)).toBeUndefined();
    expect(jsonFault(metrics)).toBeUndefined();
    expect(reading.verdict.grade).toBe('cannot tell');
    expect(readingText(reading)).toContain(words);
    expect(readingText(reading)).not.toMatch(/NaN|Infinity|undefined/);
  });
});

describe('a long run with a time that makes no sense', () => {
  const plain = [...inventedRun({ seed: 3, length_min: 4, faults: 'none' })].join('');
  const times = [...plain.matchAll(/accession="MS:1000016"[^>]*?value="([^"]*)"/g)];
  it.each(['1e15', '-1e15', '1e300', '99999', '0'])('%s', async (value) => {
    const at = times[Math.floor(times.length / 2)]!;
    const from = at.index + at[0].lastIndexOf(`"${at[1]}"`) + 1;
    const text = plain.slice(0, from) + value + plain.slice(from + at[1]!.length);
    const { reading, metrics } = await readRunStream(whole(new TextEncoder().encode(text)), 'run');
    expect(jsonFault(reading)).toBeUndefined();
    expect(jsonFault(metrics)).toBeUndefined();
    expect(reading.warnings.length + reading.events.length).toBeGreaterThan(0);
    expect(readingText(reading)).not.toMatch(/NaN|Infinity|undefined/);
  });
});
