import { Command } from 'commander';
import { version } from '../app/index.ts';
import { benchCommand } from './bench.ts';
import { explainCommand } from './explain.ts';
import { planCommand } from './plan.ts';
import { readCommand } from './read.ts';
import { rehearseCommand } from './rehearse.ts';
import { serveCommand } from './serve.ts';
import { settleCommand } from './settle.ts';
import { schemaCommand, setupCommand } from './setup.ts';
import { traceCommand } from './trace.ts';

export function program(): Command {
  const root = new Command('steadycone')
    .description('Plan a nanoelectrospray, read what a run file says about it, keep both on the bench.')
    .version(version());
  for (const command of [
    planCommand(),
    readCommand(),
    traceCommand(),
    explainCommand(),
    rehearseCommand(),
    settleCommand(),
    benchCommand(),
    setupCommand(),
    schemaCommand(),
    serveCommand(),
  ])
    root.addCommand(command);
  throwing(root);
  return root;
}

/** Every command throws its slips instead of ending the process, so that main writes them in the house grammar. */
function throwing(command: Command): void {
  command.exitOverride();
  command.configureOutput({ outputError: () => {} });
  for (const below of command.commands) throwing(below);
}
