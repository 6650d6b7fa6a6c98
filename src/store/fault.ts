/** Faults of the store's file in the house grammar, whatever was being done with it. */
import { InputError, inputError } from '../core/errors.ts';
import { notWritable } from './folder.ts';

export function damaged(file: string, answer: string): InputError {
  const found = `${file}, damaged: ${answer.replace(/\s+/g, ' ').slice(0, 200)}`;
  return inputError(
    'invalid',
    'bench store',
    found,
    'an intact SQLite file; nothing was changed, move the file away and put a copy of it back',
  );
}

/** One line for what a person can mend; anything else comes back as it is. */
export function storeFault(error: unknown, folder: string, file: string): unknown {
  if (!(error instanceof Error) || error instanceof InputError) return error;
  const code = String((error as { code?: unknown }).code ?? '');
  if (/CANTOPEN|READONLY|PERM|EACCES|EROFS/.test(code)) return notWritable(folder);
  if (/CORRUPT|NOTADB/.test(code) || /not a database|malformed/.test(error.message))
    return damaged(file, error.message);
  if (/FULL|ENOSPC|EDQUOT|IOERR/.test(code) || /disk is full|disk I\/O error/.test(error.message))
    return inputError(
      'invalid',
      'bench store',
      `${file}, ${error.message}`,
      'a disk with room that you may write to',
    );
  if (/BUSY|LOCKED/.test(code) || /database is locked/.test(error.message)) {
    return inputError(
      'invalid',
      'bench store',
      `${file}, locked by another program`,
      'one that is free to write',
    );
  }
  return error;
}
