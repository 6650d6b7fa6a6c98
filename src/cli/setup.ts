import { Command } from 'commander';
import { startingSetup } from '../app/index.ts';
import { documentJsonSchema, documentKindFrom, documentKinds } from '../contract/index.ts';
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
    .description('JSON Schema of a document; without a kind the kinds there are')
    .argument('[kind]', Object.keys(documentKinds).join(', '))
    .action((text: string | undefined) => {
      if (text === undefined) {
        process.stdout.write(kindLines());
        return;
      }
      const kind = documentKindFrom(text);
      if (!kind) throw inputError('unknown', 'document', text, Object.keys(documentKinds).join(', '));
      process.stdout.write(`${JSON.stringify(documentJsonSchema(kind), null, 2)}\n`);
    });
}

function kindLines(): string {
  const lines = Object.entries(documentKinds).map(
    ([kind, { name, read }]) => `${kind.padEnd(16)} ${name}: ${read}\n`,
  );
  return lines.join('');
}
