/** Files of a rehearsal: refused as a whole where one is taken, and written in large pieces. */
import { access, type FileHandle } from 'node:fs/promises';
import { inputError } from '../core/errors.ts';

/** Refuses before anything is written. */
export async function checkFree(paths: readonly string[]): Promise<void> {
  for (const path of paths) {
    const taken = await access(path).then(
      () => true,
      () => false,
    );
    if (taken) throw inputError('invalid', 'output file', path, 'a file that does not exist yet, or --force');
  }
}

/** Writes in pieces of about a megabyte. */
export function buffered(file: FileHandle | undefined) {
  let waiting: Uint8Array[] = [];
  let size = 0;
  const flush = async () => {
    if (file && size > 0) await file.write(Buffer.concat(waiting));
    waiting = [];
    size = 0;
  };
  return {
    flush,
    push: async (bytes: Uint8Array) => {
      if (!file) return;
      waiting.push(bytes);
      size += bytes.length;
      if (size > 1 << 20) await flush();
    },
  };
}
