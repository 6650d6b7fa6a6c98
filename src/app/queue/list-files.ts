/** The run files of a folder by their names; subfolders are not entered. */
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { inputError } from '../../core/errors.ts';
import { byName } from '../../evidence/queue/index.ts';

const RUN_NAME = /\.mzx?ml(\.gz)?$/i;

/** Paths, by name with numbers counted. Throws an InputError for what is no folder one may list. */
export async function runFilesOf(folder: string): Promise<string[]> {
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') throw inputError('missing', 'folder', folder, 'a folder with run files');
    if (error.code === 'ENOTDIR')
      throw inputError('invalid', 'folder', `${folder}, a file`, 'a folder with run files');
    throw inputError(
      'invalid',
      'folder',
      `${folder}, not readable (${error.code ?? 'unknown'})`,
      'a folder you may read',
    );
  });
  return names
    .filter((name) => RUN_NAME.test(name) && !name.startsWith('.'))
    .sort(byName)
    .map((name) => join(folder, name));
}

export async function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}
