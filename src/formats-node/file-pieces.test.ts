import { createHash } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cv, mzml, mzmlSpectrum, SECOND } from '../../test/data/made-runs.ts';
import { filePieces } from './file-pieces.ts';
import { readRunFile } from './read-run.ts';

/** From this size on a second thread reads. */
const LARGE_BYTES = 33 * 2 ** 20;
let folder = '';
let path = '';
const bytes = Buffer.alloc(LARGE_BYTES);
const peaks = Array.from({ length: 20_000 }, (_, i) => i % 977);

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'pieces-'));
  path = join(folder, 'large.mzML');
  const one = (i: number) => mzmlSpectrum({ time: cv('MS:1000016', String(i), SECOND), intensities: peaks });
  const spectra = Array.from({ length: 100 }, (_, i) => one(i));
  const text = mzml(spectra);
  bytes.fill(' ');
  bytes.write(text, 0, 'latin1');
  const end = '</spectrumList></run></mzML>'.length;
  bytes.copyWithin(bytes.length - end, text.length - end, text.length);
  bytes.fill(' ', text.length - end, text.length);
  await writeFile(path, bytes);
});
afterAll(() => rm(folder, { recursive: true }));

describe.each([
  ['here', 0],
  ['beside', LARGE_BYTES],
])('pieces read %s', (_name, size) => {
  it('are the file, and so is their hash', async () => {
    const pieces = filePieces(path, size);
    const hash = createHash('sha256');
    let length = 0;
    for await (const piece of pieces) {
      hash.update(piece);
      length += piece.length;
    }
    expect(length).toBe(bytes.length);
    expect(pieces.sha256()).toBe(hash.digest('hex'));
    expect(pieces.sha256()).toBe(createHash('sha256').update(bytes).digest('hex'));
  });

  it('fail as the system fails', async () => {
    const read = async () => {
      for await (const _ of filePieces(join(folder, 'none.mzML'), size)) expect.unreachable();
    };
    await expect(read()).rejects.toMatchObject({ code: 'ENOENT', syscall: 'open' });
  });

  it('may be left before the end', async () => {
    let met = 0;
    for await (const piece of filePieces(path, size)) {
      met += piece.length;
      if (met > 3e6) break;
    }
    expect(met).toBeLessThan(bytes.length);
  });
});

it('a large run is read through the second thread as any other', async () => {
  const { record, sha256, bytes: size } = await readRunFile(path);
  expect(size).toBe(LARGE_BYTES);
  expect(sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
  expect(record.ms1_count).toBe(100);
  const sum = peaks.reduce((a, b) => a + b, 0);
  expect(record.tic_summed.every((value) => value === sum)).toBe(true);
  expect(record.broken).toBeUndefined();
});
