/** The bench folder: made when absent, and refused in one line when it cannot be written. */
import { access, constants, mkdir, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { type InputError, inputError } from '../core/errors.ts';

export const STORE_FILE = 'bench.sqlite';

/** Path of the store's file in a folder that exists and may be written. */
export async function writableStoreFile(folder: string): Promise<string> {
  const file = join(folder, STORE_FILE);
  try {
    await made(folder);
    await access(folder, constants.R_OK | constants.W_OK | constants.X_OK);
    if (await exists(file)) await access(file, constants.R_OK | constants.W_OK);
  } catch {
    throw notWritable(folder);
  }
  return file;
}

/** Level by level: Node's own recursive mkdir never ends where a system path such as /proc answers that its parent is missing. */
async function made(folder: string): Promise<void> {
  try {
    await mkdir(folder);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return;
    const parent = dirname(folder);
    if (code !== 'ENOENT' || parent === folder || (await exists(parent))) throw error;
    await made(parent);
    await mkdir(folder);
  }
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
