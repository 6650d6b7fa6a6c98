import { Command } from 'commander';
import { startingSetup } from '../app/index.ts';
import { setupJsonSchema } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';

export function setupCommand(): Command {
  const setup = new Command('setup').description('set-up documents');
  setup
    .command('new')
    .description('print a commented starting document')
    .action(() => {
      process.stdout.write(startingSetup());
    });
  return setup;
}

export function schemaCommand(): Command {
  return new Command('schema')
    .description('JSON Schema of a document')
    .argument('<document>', 'setup')
    .action((name: string) => {
      if (name !== 'setup') throw inputError('unknown', 'document', name, 'setup');
      process.stdout.write(`${JSON.stringify(setupJsonSchema(), null, 2)}\n`);
    });
}
