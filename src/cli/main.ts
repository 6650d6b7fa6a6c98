#!/usr/bin/env node
import { program } from './program.ts';
import { refusal } from './refusal.ts';

// A reader that has enough (`| head`) ends us quietly; a full disk behind `>` is one line.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  process.stderr.write(
    `steadycone: invalid output: ${error.code ?? error.message}; expected room to write\n`,
  );
  process.exit(1);
});

try {
  await program().parseAsync(process.argv);
} catch (error) {
  process.exitCode = refusal(error);
}
