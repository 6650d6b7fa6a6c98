/**
 * Run files from disk or from any stream of bytes, gzipped or plain (told by their first bytes, not by their name), with
 * the SHA-256 of the bytes as they stand. Memory does not grow with the file.
 */
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { inputError } from '../core/errors.ts';
import type { OnMs1 } from '../formats/ms1-spectrum.ts';
import { runReader } from '../formats/run-reader.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { decodeBase64 } from './base64.ts';
import { filePieces, hashedPieces } from './file-pieces.ts';
import { gunzipInto, type Unpacker } from './gunzip.ts';
import { inflate, unzstd } from './inflate.ts';
import type { Pieces } from './piece-sizes.ts';

export interface ReadOptions {
  /** `bytesTotal` is 0 when the length is not known. */
  onProgress?: (bytesRead: number, bytesTotal: number) => void;
  /** Told of each MS1 spectrum as it is read; see `RunReaderOptions`. */
  onMs1?: OnMs1 | undefined;
  /** Whether a large file may take a second thread for its bytes and their hash; default true. */
  beside?: boolean;
  /** Stops reading; the promise rejects with the signal's reason. */
  signal?: AbortSignal;
}

export interface ReadRun {
  record: RunRecord;
  /** Of the bytes as stored, hexadecimal. */
  sha256: string;
  bytes: number;
}

const EXPECTED_FILE = 'an mzML or mzXML file, plain or gzipped';

export async function readRunFile(path: string, options: ReadOptions = {}): Promise<ReadRun> {
  const name = basename(path);
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    throw fileFault(error, name);
  });
  if (found.isDirectory()) throw inputError('invalid', 'run file', `${name}, a folder`, EXPECTED_FILE);
  if (!found.isFile()) throw inputError('invalid', 'run file', `${name}, not a regular file`, EXPECTED_FILE);
  try {
    return await readStream(filePieces(path, options.beside === false ? 0 : found.size), options, found.size);
  } catch (error) {
    throw isSystemError(error) ? fileFault(error, name) : error;
  }
}

export async function readRunStream(
  stream: AsyncIterable<Uint8Array>,
  options: ReadOptions = {},
): Promise<ReadRun> {
  return readStream(hashedPieces(stream), options, 0);
}

async function readStream(pieces: Pieces, options: ReadOptions, bytesTotal: number): Promise<ReadRun> {
  const { onProgress, signal, onMs1 } = options;
  const reader = runReader({ inflate, unzstd, decodeBase64, onMs1 });
  let bytes = 0;
  let head: Uint8Array | undefined = new Uint8Array(0);
  let unpacker: Unpacker | undefined;

  async function take(chunk: Uint8Array): Promise<void> {
    if (unpacker) await unpacker.push(chunk);
    else reader.push(chunk, pieces.room);
  }
  async function begin(start: Uint8Array): Promise<void> {
    head = undefined;
    if (start[0] === 0x1f && start[1] === 0x8b) {
      unpacker = gunzipInto((piece) => {
        reader.push(piece);
        return !reader.stopped;
      });
    }
    if (start.length > 0) await take(start);
  }

  try {
    for await (const chunk of pieces) {
      signal?.throwIfAborted();
      bytes += chunk.length;
      if (head === undefined) await take(chunk);
      else {
        const start: Uint8Array = head.length === 0 ? chunk : Buffer.concat([head, chunk]);
        if (start.length < 2) head = start.slice();
        else await begin(start);
      }
      onProgress?.(bytes, bytesTotal);
    }
    signal?.throwIfAborted();
    if (head) await begin(head);
    const failure = await unpacker?.end();
    const record = reader.end(failure);
    if (record.broken && unpacker) record.broken.reason += ' (its byte is counted after unpacking)';
    if (unpacker?.surplusFrom !== undefined) {
      record.warnings.push(
        `The file goes on behind its gzip data, after byte ${unpacker.surplusFrom}; that part was not read.`,
      );
    }
    return { record, sha256: pieces.sha256(), bytes };
  } finally {
    unpacker?.close();
  }
}

function isSystemError(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && typeof (error as NodeJS.ErrnoException).syscall === 'string';
}

function fileFault(error: NodeJS.ErrnoException, name: string): Error {
  if (error.code === 'ENOENT' || error.code === 'ENOTDIR') {
    return inputError('missing', 'run file', name, EXPECTED_FILE);
  }
  if (error.code === 'EACCES' || error.code === 'EPERM') {
    return inputError('invalid', 'run file', `${name}, which may not be read`, EXPECTED_FILE);
  }
  return inputError(
    'invalid',
    'run file',
    `${name}, a read error (${error.code ?? 'unknown'})`,
    EXPECTED_FILE,
  );
}
