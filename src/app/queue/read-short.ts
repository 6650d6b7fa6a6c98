/** One file of a queue read to its short form; the same whether in a worker or in this process. */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { inputError } from '../../core/errors.ts';
import type { Setup } from '../../core/setup.ts';
import { type MaskSpan, type RunAsRead, readOneRun } from '../read-one-run.ts';

const CHUNK_BYTES = 1 << 20;

export interface FileFacts {
  bytes: number;
  /** Time of the last change [ms since 1970]. */
  changed_ms: number;
}

export async function fileFacts(path: string): Promise<FileFacts> {
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    throw inputError(
      'missing',
      'run file',
      `${basename(path)} (${error.code ?? 'unknown'})`,
      'a file you may read',
    );
  });
  return { bytes: found.size, changed_ms: found.mtimeMs };
}

/** SHA-256 of the bytes as stored: the name under which a reading is cached. */
export async function fileHash(path: string): Promise<string> {
  const hash = createHash('sha256');
  try {
    for await (const chunk of createReadStream(path, { highWaterMark: CHUNK_BYTES }))
      hash.update(chunk as Buffer);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw inputError(
      'invalid',
      'run file',
      `${basename(path)}, a read error (${code ?? 'unknown'})`,
      'a file you may read',
    );
  }
  return hash.digest('hex');
}

/** What is the same for every file of a queue. */
export interface ReadWith {
  mask: readonly MaskSpan[];
  /** Its gradient tells the phases of every file. */
  setup?: Setup | undefined;
}

/** `beside`: whether a large file may take a second thread. */
export async function readShort(
  path: string,
  { mask, setup, beside, onBytes }: ReadWith & { beside: boolean; onBytes: (read: number) => void },
): Promise<RunAsRead> {
  return readOneRun(path, { onProgress: onBytes, mask, setup, beside });
}
