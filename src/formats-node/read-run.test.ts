import { createHash } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cv, mzml, mzmlSpectrum, SECOND } from '../../test/data/made-runs.ts';
import { InputError } from '../core/errors.ts';
import { inflate } from './inflate.ts';
import { readRunFile, readRunStream } from './read-run.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'runs-'));
});
afterAll(() => rm(folder, { recursive: true }));

const ROWS = 3000;
const spectra = Array.from({ length: ROWS }, (_, i) =>
  mzmlSpectrum({ time: cv('MS:1000016', String(i), SECOND), intensities: [i, Math.sin(i), 3] }),
);
const plain = Buffer.from(mzml(spectra));

async function saved(name: string, bytes: Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return path;
}

async function* pieces(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

describe('files', () => {
  it('reads a plain file, with its hash, size and progress', async () => {
    const path = await saved('plain.mzML', plain);
    const told: [number, number][] = [];
    const read = await readRunFile(path, { onProgress: (done, total) => told.push([done, total]) });
    expect(read.record.ms1_count).toBe(ROWS);
    expect(read.bytes).toBe(plain.length);
    expect(read.sha256).toBe(createHash('sha256').update(plain).digest('hex'));
    expect(told.length).toBeGreaterThan(1);
    expect(told.at(-1)).toEqual([plain.length, plain.length]);
  });

  it('unpacks gzip whatever the name says, also of two members, and hashes the packed bytes', async () => {
    const half = Math.floor(plain.length / 2);
    const one = gzipSync(plain);
    const two = Buffer.concat([gzipSync(plain.subarray(0, half)), gzipSync(plain.subarray(half))]);
    const padded = Buffer.concat([one, Buffer.alloc(512)]);
    for (const bytes of [one, two, padded]) {
      const read = await readRunFile(await saved('misnamed.mzML', bytes));
      expect(read.record.ms1_count).toBe(ROWS);
      expect(read.record.broken).toBeUndefined();
      expect(read.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
    }
  });

  it('refuses a missing file and a folder in one line without the path', async () => {
    await expect(readRunFile(join(folder, 'none.mzML'))).rejects.toThrow(
      /^missing run file: none\.mzML; expected an mzML or mzXML file, plain or gzipped$/,
    );
    const refusal = await readRunFile(folder).catch((error: unknown) => error);
    expect(refusal).toBeInstanceOf(InputError);
    expect((refusal as Error).message).toMatch(/^invalid run file: [^/]+, a folder; expected /);
  });
});

describe('streams', () => {
  it('reads pieces of any size, gzipped or not', async () => {
    for (const bytes of [plain, gzipSync(plain)]) {
      const { record } = await readRunStream(pieces(bytes, 4099));
      expect(record.ms1_count).toBe(ROWS);
    }
    const { record } = await readRunStream(pieces(Buffer.from(mzml([mzmlSpectrum()])), 1));
    expect(record.ms1_count).toBe(1);
    expect((await readRunStream(pieces(gzipSync(mzml([mzmlSpectrum()])), 1))).record.ms1_count).toBe(1);
  });

  it('keeps the rows of a cut gzip file', async () => {
    const packed = gzipSync(plain);
    const { record, bytes } = await readRunStream(pieces(packed.subarray(0, packed.length / 2), 65_536));
    expect(bytes).toBe(Math.floor(packed.length / 2));
    expect(record.ms1_count).toBeGreaterThan(ROWS / 4);
    expect(record.ms1_count).toBeLessThan(ROWS);
    expect(record.broken?.reason).toMatch(/^the file ends inside/);
  });

  it('keeps the rows before damaged gzip data and says so', async () => {
    const packed = gzipSync(plain);
    const middle = Math.floor(packed.length / 2);
    packed.fill(0xff, middle, middle + 64);
    const { record, sha256 } = await readRunStream(pieces(packed, 8192));
    expect(record.ms1_count).toBeGreaterThan(ROWS / 5);
    expect(record.ms1_count).toBeLessThan(ROWS);
    expect(record.broken).toBeDefined();
    expect(sha256).toBe(createHash('sha256').update(packed).digest('hex'));
  });

  it('refuses an empty stream, a lone gzip magic and gzipped HTML', async () => {
    for (const bytes of [Buffer.alloc(0), Buffer.from([0x1f, 0x8b]), gzipSync('<html></html>')]) {
      await expect(readRunStream(pieces(bytes, 100))).rejects.toThrow(InputError);
    }
  });

  it('stops when told to', async () => {
    const stop = new AbortController();
    const reading = readRunStream(pieces(plain, 4096), {
      signal: stop.signal,
      onProgress: (done) => done > 50_000 && stop.abort(new Error('enough')),
    });
    await expect(reading).rejects.toThrow('enough');
  });
});

it('inflates no further than allowed', () => {
  expect(() => inflate(Buffer.from('eJwDAAAAAAE=', 'base64'), 0)).not.toThrow();
  expect(() => inflate(Buffer.from('not zlib'), 100)).toThrow();
});
