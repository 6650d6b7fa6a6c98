import { type Bench, openBench } from '../app/index.ts';
import { InputError } from '../core/errors.ts';

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
      if (!(error instanceof InputError)) throw error;
      process.stderr.write(`steadycone: not kept: ${error.message}\n`);
    }
  }
  try {
    return await task(bench);
  } finally {
    await bench?.close();
  }
}
