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
  const bench = keep ? await keptOrSaid(() => openBench()) : undefined;
  try {
    return await task(bench);
  } finally {
    await keptOrNot(bench, (open) => open.close());
  }
}

/** What was computed is worth more than its record: a store that fails says so and the result is still printed. */
export async function keptOrNot<T>(
  bench: Bench | undefined,
  keeping: (bench: Bench) => Promise<T>,
): Promise<T | undefined> {
  return bench === undefined ? undefined : keptOrSaid(() => keeping(bench));
}

/** A full disk fails at every file and again on closing: one line is enough. */
const said = new Set<string>();

async function keptOrSaid<T>(work: () => Promise<T>): Promise<T | undefined> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    sayNotKept(error);
    return undefined;
  }
}

export function sayNotKept(error: InputError): void {
  if (!said.has(error.message)) process.stderr.write(`steadycone: not kept: ${error.message}\n`);
  said.add(error.message);
}

export async function openedBench<T>(task: (bench: Bench) => Promise<T>): Promise<T> {
  const bench = await openBench();
  try {
    return await task(bench);
  } finally {
    await bench.close();
  }
}
