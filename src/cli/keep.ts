import { type Bench, openBench } from '../app/index.ts';
import { InputError, inputError } from '../core/errors.ts';

/**
 * Runs a task with the bench, or without one where it was declined or cannot be opened: a result already computed is
 * worth more than its record, so the reason goes to stderr and the work goes on.
 */
export async function withBench<T>(
  keep: boolean,
  task: (bench: Bench | undefined) => Promise<T>,
): Promise<T> {
  let bench: Bench | undefined;
  if (keep) {
    try {
      bench = await openBench();
    } catch (error) {
      process.stderr.write(`steadycone: not kept: ${storeFault(error).message}\n`);
    }
  }
  try {
    return await task(bench);
  } finally {
    await bench?.close();
  }
}

/** A failure of the store's file in the house grammar; anything else is thrown as it is. */
export function storeFault(error: unknown): InputError {
  if (error instanceof InputError) return error;
  const { code, message } = error as { code?: unknown; message?: string };
  if (typeof code !== 'string' || !/^(SQLITE_|ENOSPC|EROFS|EDQUOT)/.test(code)) throw error;
  return inputError('invalid', 'bench store', message ?? code, 'a disk with room that you may write to');
}
