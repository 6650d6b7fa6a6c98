/**
 * Real runs and odd files that lie beside the checkout and are no part of it (sources and licences in their README).
 * Counts of MS1 spectra as found with two independent C++ readers and by text search; computed. A clone of the project
 * has none of these files: the names of the tests then say that they are skipped.
 */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/core/errors.ts';
import { readRunFile } from '../../src/formats-node/index.ts';

const folder = join(import.meta.dirname, '../../../shared/data');
const real = join(folder, 'mzml');
const odd = join(folder, 'mzml-odd');
const absent = ' (SKIPPED: the shared data are absent on this machine)';
const label = (name: string, path: string) => name + (existsSync(path) ? '' : absent);

const MS1_COUNTS: readonly (readonly [string, number])[] = [
  ['nanolc_trap_16min.mzML', 564],
  ['nanolc_trap_33min_no_tic.mzML.gz', 2035],
  ['nanolc_iit_as_userparam.mzML.gz', 207],
  ['nanolc_trap_iit_clamped.mzML', 62],
  ['lc_zlib_iit.mzML', 126],
  ['infusion_sim_windows_iit.mzML', 88],
  ['nanoesi_polarity_switching_profile.mzML.gz', 961],
  ['two_analysers_profile_iit.mzML', 14],
  ['nanolc_few_ms1_iit.mzML', 24],
  ['lc.mzXML', 87],
];
/** Its head announces one spectrum less than text search finds. */
const MISCOUNTED = 'nanolc_trap_iit_clamped.mzML';
const MISCOUNT = 'The file announces 101 and holds 102 spectra; what is there was read.';
const WITH_INJECTION_TIMES = MS1_COUNTS.map(([name]) => name).filter((name) => name.includes('iit'));

describe.skipIf(!existsSync(real))(label('real runs', real), () => {
  it.each(MS1_COUNTS)('%s: every MS1, times rising, every sum decoded', async (name, count) => {
    const { record } = await readRunFile(join(real, name));
    expect(record.broken).toBeUndefined();
    expect(record.ms1_count).toBe(count);
    expect(record.spectra_by_level[0]).toBe(0);
    for (let i = 0; i < count; i += 1) {
      expect(record.time_s[i]).not.toBeNaN();
      expect(record.tic_summed[i]).not.toBeNaN();
      if (i > 0) expect(record.time_s[i]!).toBeGreaterThanOrEqual(record.time_s[i - 1]!);
    }
    const stated = record.tic_stated.some((value) => !Number.isNaN(value));
    expect(stated).toBe(!name.includes('no_tic'));
    const odd = record.warnings.filter((line) => !line.includes('without a stated TIC'));
    expect(odd).toEqual(name === MISCOUNTED ? [MISCOUNT] : []);
  });

  it.each(WITH_INJECTION_TIMES)('%s: an injection time for every MS1', async (name) => {
    const { record } = await readRunFile(join(real, name));
    expect(record.injection_ms.length).toBeGreaterThan(0);
    expect(record.injection_ms.every((value) => value > 0)).toBe(true);
  });

  it('tells two analysers and two polarities apart', async () => {
    const { record } = await readRunFile(join(real, 'two_analysers_profile_iit.mzML'));
    expect(record.analysers).toEqual(['FTMS', 'ITMS']);
    const switching = await readRunFile(join(real, 'nanoesi_polarity_switching_profile.mzML.gz'));
    expect(new Set(switching.record.polarity)).toEqual(new Set([1, -1]));
  });
});

describe.skipIf(!existsSync(odd))(label('odd files', odd), () => {
  it.each(existsSync(odd) ? readdirSync(odd) : [])('%s gives a record or one refusal', async (name) => {
    const outcome = await readRunFile(join(odd, name)).catch((error: unknown) => error);
    if (outcome instanceof Error) {
      expect(outcome).toBeInstanceOf(InputError);
      expect((outcome as InputError).faults).toHaveLength(1);
    } else {
      const { record } = outcome as Awaited<ReturnType<typeof readRunFile>>;
      expect(record.time_s).toHaveLength(record.ms1_count);
      expect(record.broken).toBeUndefined();
    }
  });
});
