/** The run files of a folder by their names, and where asked for those of the folders inside it. */
import type { Dirent } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { inputError } from '../../core/errors.ts';
import { byName } from '../../evidence/queue/index.ts';

const RUN_NAME = /\.mzx?ml(\.gz)?$/i;
/** Folders inside folders are entered down to here, hidden ones and links never. */
const DEEPEST = 8;

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

/** The same with the folders inside, the folder's own files first, then folder by folder by name. */
export async function runFilesUnder(folder: string): Promise<string[]> {
  const paths = await runFilesOf(folder);
  for (const inner of await foldersIn(folder, 1)) paths.push(...(await runFilesOf(inner)));
  return paths;
}

/** How many folders inside hold run files of their own. */
export async function foldersWithRuns(folder: string): Promise<number> {
  let count = 0;
  for (const inner of await foldersIn(folder, 1)) {
    const names = await readdir(inner).catch(() => [] as string[]);
    if (names.some((name) => RUN_NAME.test(name) && !name.startsWith('.'))) count++;
  }
  return count;
}

/** Folders inside, each before its own; one that may not be listed is left out. */
async function foldersIn(folder: string, depth: number): Promise<string[]> {
  if (depth > DEEPEST) return [];
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => [] as Dirent[]);
  const inside = entries
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
    .map((entry) => entry.name)
    .sort(byName);
  const found: string[] = [];
  for (const name of inside) {
    const path = join(folder, name);
    const readable = await readdir(path).then(
      () => true,
      () => false,
    );
    if (readable) found.push(path, ...(await foldersIn(path, depth + 1)));
  }
  return found;
}

/** The run file of a folder that was written to last. */
export async function newestRunOf(folder: string): Promise<string> {
  let newest: { path: string; changed_ms: number } | undefined;
  for (const path of await runFilesOf(folder)) {
    const found = await stat(path).catch(() => undefined);
    if (found?.isFile() && found.mtimeMs >= (newest?.changed_ms ?? Number.NEGATIVE_INFINITY))
      newest = { path, changed_ms: found.mtimeMs };
  }
  if (!newest) throw inputError('missing', 'run files', folder, 'a folder with .mzML or .mzXML files');
  return newest.path;
}

export async function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}
