/** `settle prove`: the reading at the working point, held against the one that led to the session. */
import { Command } from 'commander';
import { addProof, figuresOfReading, figuresOfRun, figuresOfTrace, openSettleLog } from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { proofOutcome, proofWords, type ReadFigures } from '../core/settling/index.ts';
import { openedBench, withBench } from './keep.ts';
import { print } from './settle-words.ts';
import { type ImportFlags, importTold, withImport } from './trace-flags.ts';

export function proveCommand(): Command {
  const command = new Command('prove')
    .description('read a run or a trace at the working point and link it to the session: before -> after')
    .argument('<log>', 'file of the session')
    .argument('[file]', 'a run file, mzML or mzXML; it is read and kept')
    .option('--reading <id>', 'a kept reading in place of a file')
    .option('--trace <file>', 'a current trace in place of a run')
    .option('--json', 'the proof as JSON');
  return withImport(command).action(async (path: string, file: string | undefined, options: ProveOptions) => {
    const log = await openSettleLog(path);
    if (log.session.readings.length === 0)
      throw inputError(
        'missing',
        'readings',
        '',
        'one reading or more; without one there is no working point',
      );
    const after = await provedBy(file, options);
    const proof = { after, when: new Date().toISOString() };
    await addProof(path, proof);
    const { before } = log.session.because ?? {};
    print(
      options.json
        ? JSON.stringify({ outcome: proofOutcome(before, proof), before: before ?? null, ...proof }, null, 2)
        : proofWords(before, proof),
    );
  });
}

interface ProveOptions extends ImportFlags {
  reading?: string;
  trace?: string;
  json?: true;
}

async function provedBy(file: string | undefined, options: ProveOptions): Promise<ReadFigures> {
  const { reading, trace } = options;
  const given = [file, reading, trace].filter((one) => one !== undefined);
  if (given.length !== 1)
    throw inputError('missing', 'proof', given.join(' and '), 'one of a run file, --reading and --trace');
  if (reading !== undefined) return openedBench((bench) => figuresOfReading(bench, reading));
  if (trace !== undefined) return figuresOfTrace(trace, importTold(options));
  return withBench(true, (bench) => figuresOfRun(bench, file!));
}
