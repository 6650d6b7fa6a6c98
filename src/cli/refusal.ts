import { CommanderError } from 'commander';
import { InputError, inputError } from '../core/errors.ts';

/**
 * Bad input: its lines on stderr, each behind the file's name where several were given, exit 1. Anything else is a fault of
 * ours: its message, exit 70. Help and version end well.
 */
export function refusal(error: unknown, file?: string): number {
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return 0;
    const usage = usageFault(error);
    return usage === undefined ? 1 : refusal(usage);
  }
  const name = file === undefined ? '' : `${file}: `;
  if (error instanceof InputError) {
    for (const line of error.message.split('\n')) process.stderr.write(`steadycone: ${name}${line}\n`);
    return 1;
  }
  process.stderr.write(
    `steadycone: ${name}unexpected fault: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
  );
  return 70;
}

/** A slip in the command itself, in the house grammar; undefined where its help was printed instead. */
function usageFault({ code, message }: CommanderError): InputError | undefined {
  const named = /'([^']*)'/.exec(message)?.[1] ?? '';
  const hint = /\(Did you mean ([^)]*)\?\)/.exec(message)?.[1];
  const listed = (what: string) =>
    hint === undefined ? `${what} that --help lists` : `${hint}, or ${what} that --help lists`;
  switch (code) {
    case 'commander.help':
    case 'commander.helpDisplayed':
      return undefined;
    case 'commander.unknownOption':
      return inputError('unknown', 'option', named, listed('one'));
    case 'commander.unknownCommand':
      return inputError('unknown', 'command', named, listed('one'));
    case 'commander.missingArgument':
      return inputError('missing', 'argument', named, 'a value for it; --help says which');
    case 'commander.optionMissingArgument':
      return inputError('missing', 'value', named, 'a value behind the option');
    case 'commander.excessArguments':
      return inputError(
        'invalid',
        'arguments',
        'too many',
        'what --help lists; names with spaces need quotes',
      );
    default:
      return inputError('invalid', 'command', message.replace(/^error: /, ''), 'what --help lists');
  }
}
