/** Files that a command writes: never over another one unless told to, and refused before the long work begins. */
import { access, writeFile } from 'node:fs/promises';
import { type MzqcRun, mzqcDocument, version } from '../app/index.ts';
import { inputError } from '../core/errors.ts';

/** Throws one InputError for the first path that is taken already. */
export async function checkFree(paths: readonly (string | undefined)[], force: boolean): Promise<void> {
  for (const path of paths) {
    if (path === undefined || force) continue;
    const taken = await access(path).then(
      () => true,
      () => false,
    );
    if (taken) throw fault(path, 'a file that does not exist yet, or --force');
  }
}

export async function writeText(path: string, text: string, force: boolean): Promise<void> {
  await writeFile(path, text, { flag: force ? 'w' : 'wx' }).catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'EEXIST'
      ? fault(path, 'a file that does not exist yet, or --force')
      : fault(`${path} (${error.code ?? 'unknown'})`, 'a file you may write, on a disk with room');
  });
}

export async function writeMzqc(path: string, runs: readonly MzqcRun[], force: boolean): Promise<void> {
  if (runs.length === 0)
    throw inputError('missing', 'runs for mzQC', 'none was read', 'one readable run or more');
  const document = mzqcDocument(runs, { created: new Date().toISOString(), version: version() });
  await writeText(path, `${JSON.stringify(document, null, 1)}\n`, force);
}

function fault(found: string, expected: string) {
  return inputError('invalid', 'output file', found, expected);
}
