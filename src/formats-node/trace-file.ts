/**
 * A trace from disk: bytes in pieces, so memory does not grow with the file. Raw samples are known by their sidecar, FILE.json or the
 * file's name with its ending replaced by .json; WAV and tables by their first bytes.
 */
import { createReadStream } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { inputError } from '../core/errors.ts';
import {
  rawSidecar,
  type TraceEnd,
  type TraceOptions,
  type TraceSink,
  traceReader,
} from '../formats/trace/index.ts';

export interface ReadTraceOptions {
  onProgress?: ((bytesRead: number, bytesTotal: number) => void) | undefined;
  /** Stops reading; the promise rejects with the signal's reason. */
  signal?: AbortSignal | undefined;
}

const CHUNK_BYTES = 1 << 20;
const SIDECAR_BYTES_MAX = 1 << 16;
const EXPECTED = 'a table (CSV, TSV), a WAV file, or raw samples with a JSON sidecar';

export async function traceBytes(path: string): Promise<number> {
  const name = basename(path);
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'ENOENT' || error.code === 'ENOTDIR'
      ? inputError('missing', 'trace file', name, EXPECTED)
      : inputError('invalid', 'trace file', `${name} (${error.code ?? 'unknown'})`, EXPECTED);
  });
  if (!found.isFile())
    throw inputError(
      'invalid',
      'trace file',
      `${name}, ${found.isDirectory() ? 'a folder' : 'no regular file'}`,
      EXPECTED,
    );
  return found.size;
}

export async function readTraceFile(
  path: string,
  options: TraceOptions,
  sink: TraceSink,
  { onProgress, signal }: ReadTraceOptions = {},
): Promise<TraceEnd> {
  const total = await traceBytes(path);
  const sidecar = options.sidecar ?? (await sidecarOf(path, options.raw_step));
  const reader = traceReader({ ...options, sidecar }, sink);
  const stream = createReadStream(path, { highWaterMark: CHUNK_BYTES });
  let read = 0;
  try {
    for await (const chunk of stream) {
      signal?.throwIfAborted();
      reader.push(chunk as Uint8Array);
      read += (chunk as Uint8Array).length;
      onProgress?.(read, total);
    }
    signal?.throwIfAborted();
    return reader.end();
  } catch (error) {
    const { syscall, code } = error as NodeJS.ErrnoException;
    if (typeof syscall !== 'string') throw error;
    throw inputError(
      'invalid',
      'trace file',
      `${basename(path)}, a read error (${code ?? 'unknown'})`,
      EXPECTED,
    );
  } finally {
    stream.destroy();
  }
}

async function sidecarOf(path: string, step: number | undefined) {
  if (/\.(csv|tsv|txt|wav|json)$/i.test(path)) return undefined;
  for (const candidate of [`${path}.json`, path.replace(/\.[^./\\]*$/, '.json')]) {
    if (candidate === path) continue;
    const found = await stat(candidate).catch(() => undefined);
    if (!found?.isFile()) continue;
    if (found.size > SIDECAR_BYTES_MAX)
      throw inputError(
        'out of range',
        'sidecar',
        `${basename(candidate)}, more than 64 kB`,
        'a small JSON file',
      );
    const text = await readFile(candidate, 'utf8');
    let document: unknown;
    try {
      document = JSON.parse(text);
    } catch {
      throw inputError('invalid', 'sidecar', basename(candidate), 'JSON');
    }
    return rawSidecar(document, step);
  }
  return undefined;
}
