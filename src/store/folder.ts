/** The bench folder: made when absent, and refused in one line when it cannot be written. */
import { access, constants, mkdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { type InputError, inputError } from '../core/errors.ts';

export const STORE_FILE = 'bench.sqlite';

/** Path of the store's file in a folder that exists and may be written. */
export async function writableStoreFile(folder: string): Promise<string> {
  const file = join(folder, STORE_FILE);
  try {
    await mkdir(folder, { recursive: true });
    await access(folder, constants.R_OK | constants.W_OK | constants.X_OK);
    if (await exists(file)) await access(file, constants.R_OK | constants.W_OK);
  } catch {
    throw notWritable(folder);
  }
  return file;
}

export function notWritable(folder: string): InputError {
  return inputError(
    'invalid',
    'bench folder',
    `${folder}, not writable`,
    'a folder you may write to, or set STEADYCONE_HOME to one',
  );
}

async function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}
