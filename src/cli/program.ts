import { Command } from 'commander';
import { version } from '../app/index.ts';
import { benchCommand } from './bench.ts';
import { planCommand } from './plan.ts';
import { readCommand } from './read.ts';
import { serveCommand } from './serve.ts';
import { schemaCommand, setupCommand } from './setup.ts';

export function program(): Command {
  const root = new Command('steadycone')
    .description('Plan a nanoelectrospray, read what a run file says about it, keep both on the bench.')
    .version(version())
    .showHelpAfterError('(steadycone --help lists the commands)');
  for (const command of [
    planCommand(),
    readCommand(),
    benchCommand(),
    setupCommand(),
    schemaCommand(),
    serveCommand(),
  ])
    root.addCommand(command);
  return root;
}
