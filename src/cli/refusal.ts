import { InputError } from '../core/errors.ts';

/** Bad input: its lines on stderr, exit 1. Anything else is a fault of ours: its message, exit 70. */
export function refusal(error: unknown): number {
  if (error instanceof InputError) {
    for (const line of error.message.split('\n')) process.stderr.write(`steadycone: ${line}\n`);
    return 1;
  }
  process.stderr.write(
    `steadycone: unexpected fault: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
  );
  return 70;
}
