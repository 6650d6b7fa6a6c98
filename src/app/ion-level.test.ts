import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { inventedRun } from '../rehearsal/index.ts';
import { ionFrom } from './ion-level.ts';
import { levelFromRun } from './settle-levels.ts';

const folder = mkdtempSync(join(tmpdir(), 'steadycone-ion-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const array = (values: readonly number[], of: 'm/z' | 'intensity'): string => {
  const bytes = Buffer.from(Float64Array.from(values).buffer).toString('base64');
  const name =
    of === 'm/z'
      ? '<cvParam cvRef="MS" accession="MS:1000514" name="m/z array"/>'
      : '<cvParam cvRef="MS" accession="MS:1000515" name="intensity array"/>';
  return `<binaryDataArray encodedLength="${bytes.length}"><cvParam cvRef="MS" accession="MS:1000523" name="64-bit float"/><cvParam cvRef="MS" accession="MS:1000576" name="no compression"/>${name}<binary>${bytes}</binary></binaryDataArray>`;
};

/** An invented run whose scans hold the given peaks. */
function runOf(name: string, scans: readonly (readonly [number, number][])[]): string {
  const spectra = scans.map(
    (
      peaks,
      k,
    ) => `<spectrum index="${k}" id="scan=${k + 1}" defaultArrayLength="${peaks.length}"><cvParam cvRef="MS" accession="MS:1000579" name="MS1 spectrum"/><cvParam cvRef="MS" accession="MS:1000511" name="ms level" value="1"/><cvParam cvRef="MS" accession="MS:1000127" name="centroid spectrum"/><cvParam cvRef="MS" accession="MS:1000130" name="positive scan"/>
<scanList count="1"><scan><cvParam cvRef="MS" accession="MS:1000016" name="scan start time" value="${k}" unitAccession="UO:0000010"/><scanWindowList count="1"><scanWindow><cvParam cvRef="MS" accession="MS:1000501" name="scan window lower limit" value="300"/><cvParam cvRef="MS" accession="MS:1000500" name="scan window upper limit" value="1000"/></scanWindow></scanWindowList></scan></scanList>
<binaryDataArrayList count="2">${array(
      peaks.map(([mz]) => mz),
      'm/z',
    )}${array(
      peaks.map(([, height]) => height),
      'intensity',
    )}</binaryDataArrayList></spectrum>`,
  );
  const path = join(folder, name);
  writeFileSync(
    path,
    `<?xml version="1.0"?><mzML xmlns="http://psi.hupo.org/ms/mzml" version="1.1.0"><run id="r"><spectrumList count="${scans.length}">${spectra.join('')}</spectrumList></run></mzML>`,
  );
  return path;
}

describe("an ion's level", () => {
  it('adds what lies inside the tolerance and nothing beside it, and tells the scatter of neighbours', async () => {
    const steps = [100, 104, 100, 104, 100, 104, 100, 104, 100];
    const scans = steps.map((level): [number, number][] => [
      [524.2549, 7000],
      [524.258, 0.4 * level],
      [524.262, 0.6 * level],
      [524.2653, 9000],
    ]);
    const path = runOf('beside.mzML', scans);
    const found = await levelFromRun(path, ionFrom('524.26±8ppm'));
    expect(found.level).toBeCloseTo(100, 9);
    expect(found).toMatchObject({ scans: 9, seen: 9 });
    // Neighbours differ by ±4: 1.4826 × 4 / √2.
    expect(found.scatter_percent).toBeCloseTo(4.19, 2);
    expect((await levelFromRun(path, ionFrom('524.26±0.02'))).level).toBeCloseTo(16_100, 6);
  });

  it('is 0 where the ion is not there, and refuses where no scan could hold it', async () => {
    const path = runOf(
      'absent.mzML',
      Array.from({ length: 6 }, (): [number, number][] => [[400, 10]]),
    );
    expect(await levelFromRun(path, ionFrom('524.26±10ppm'))).toEqual({ level: 0, scans: 6, seen: 0 });
    await expect(levelFromRun(path, ionFrom('1500±10ppm'))).rejects.toThrow('missing MS1 scans');
  });

  it('follows a background ion of an invented run, where the whole level is larger', async () => {
    const path = join(folder, 'invented.mzML');
    writeFileSync(path, [...inventedRun({ seed: 7 })].join(''));
    const whole = await levelFromRun(path);
    const ion = await levelFromRun(path, { mz: 445.12, tolerance_ppm: 20 });
    expect(whole.level).toBeGreaterThan(ion.level);
  });

  it.each([
    '',
    '524.26',
    '524.26±',
    'abc±10ppm',
    '-4±1ppm',
    '524.26±0ppm',
    '524.26±99999ppm',
    '524,26±10ppm',
  ])('refuses "%s" in one line', (text) => {
    expect(() => ionFrom(text)).toThrow(/ion/);
  });

  it('reads a tolerance in ppm or in m/z, with ± or +-', () => {
    expect(ionFrom('500±10ppm')).toEqual({ mz: 500, tolerance_ppm: 10 });
    expect(ionFrom('500 +- 0.01').tolerance_ppm).toBeCloseTo(20, 9);
  });
});
