import { appendFile, writeFile } from 'node:fs/promises';
import { Command } from 'commander';
import { pointObservations } from '../app/index.ts';
import { type BenchItem, type BenchKind, benchKinds, noteRequestSchema } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';
import { openedBench } from './keep.ts';

export function benchCommand(): Command {
  const bench = new Command('bench').description(
    'what is kept: emitters, set-ups, plans, runs, readings, working points, notes',
  );
  bench
    .command('list')
    .option('--kind <kind>', `one of ${benchKinds.join(', ')}`)
    .option('--find <text>', 'only what contains this text')
    .option('--json', 'as JSON')
    .action((options: { kind?: string; find?: string; json?: true }) =>
      openedBench(async (store) => {
        const items = await store.list({ kind: kindOf(options.kind), query: options.find });
        if (options.json) print(items);
        else
          process.stdout.write(
            items.length === 0 ? 'Nothing kept that fits.\n' : `${items.map(itemLine).join('\n')}\n`,
          );
      }),
    );
  bench
    .command('show')
    .argument('<id>', 'for example run-1')
    .action((id: string) =>
      openedBench(async (store) => {
        print(await store.show(id));
      }),
    );
  bench
    .command('observe')
    .description('a working point as the rows of `plan SETUP --observe FILE`')
    .argument('<id>', 'for example point-1')
    .option('--out <file>', 'file to write instead of the terminal')
    .action((id: string, options: { out?: string }) =>
      openedBench(async (store) => {
        const text = await pointObservations(store, id);
        if (options.out === undefined) terminal(text);
        else await (await newFile(options.out))(text);
      }),
    );
  bench
    .command('note')
    .description('a dated note on an emitter, set-up, plan, run or reading, or a working point')
    .argument('<id>', 'for example run-1')
    .argument('<text...>')
    .option('--who <name>', 'initials', '')
    .action((id: string, text: string[], options: { who: string }) =>
      openedBench(async (store) => {
        const request = noteRequestSchema.safeParse({ on: id, text: text.join(' '), who: options.who });
        if (!request.success)
          throw inputError('invalid', 'note', `${text.join(' ').length} characters`, '1 to 2000 characters');
        const item = await store.note(request.data);
        process.stdout.write(`${itemLine(item)}\n`);
      }),
    );
  bench
    .command('queues')
    .description('the queues that runs were read under')
    .option('--json', 'as JSON')
    .action((options: { json?: true }) =>
      openedBench(async (store) => {
        const labels = await store.store.queueLabels();
        if (options.json) print(labels);
        else
          process.stdout.write(
            labels.length === 0
              ? 'No queue yet: steadycone read FOLDER --queue reads one.\n'
              : `${labels.map(({ label, runs, last }) => `${last.slice(0, 16).replace('T', ' ')}  ${label}  (${runs} ${runs === 1 ? 'run' : 'runs'})`).join('\n')}\n`,
          );
      }),
    );
  bench
    .command('export')
    .description('everything kept, as one JSON document')
    .option('--out <file>', 'file to write instead of the terminal')
    .action((options: { out?: string }) =>
      openedBench(async (store) => {
        const write = options.out === undefined ? terminal : await newFile(options.out);
        for await (const piece of store.exportPieces()) await write(piece);
      }),
    );
  return bench;
}

function terminal(piece: string): void {
  process.stdout.write(piece);
}

async function newFile(path: string): Promise<(piece: string) => Promise<void>> {
  await writeFile(path, '', { flag: 'wx' }).catch((error: NodeJS.ErrnoException) => {
    throw inputError(
      'invalid',
      'out',
      path,
      error.code === 'EEXIST' ? 'a file that does not exist yet' : 'a file you may write',
    );
  });
  return (piece) => appendFile(path, piece);
}

function kindOf(text: string | undefined): BenchKind | undefined {
  if (text === undefined) return undefined;
  const kind = benchKinds.find((name) => name === (text === 'working point' ? 'point' : text));
  if (kind === undefined) throw inputError('unknown', 'kind', text, `one of ${benchKinds.join(', ')}`);
  return kind;
}

function print(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, null, 1)}\n`);
}

function itemLine(item: BenchItem): string {
  const by = item.who === '' ? '' : ` by ${item.who}`;
  return `${item.id.padEnd(12)} ${item.when.slice(0, 16).replace('T', ' ')}  ${item.title}${item.invented ? '  [invented]' : ''}${item.on ? `  on ${item.on}` : ''}${by}`;
}
