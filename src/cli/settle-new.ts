/** `settle new`: begins a session, with the cause and the reading that led to it. */
import { Command } from 'commander';
import {
  figuresOfReading,
  figuresOfRun,
  loadSettleDocument,
  loadSetupFile,
  newSettleLog,
} from '../app/index.ts';
import { type SettleDocument, settleReasonFrom } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';
import { reasonWords } from '../core/settling/index.ts';
import { numberOf } from './flag-values.ts';
import { openedBench, withBench } from './keep.ts';
import { print, printAdvice } from './settle-words.ts';

export function newCommand(): Command {
  return new Command('new')
    .description('begin a session: what may move, limits, start')
    .argument('<log>', 'file of the session, made new; readings are appended to it')
    .requiredOption('--session <file>', 'session document, YAML or JSON (examples/settle-harbour.yaml)')
    .option(
      '--setup <file>',
      'set-up document: the onset over distance and the discharge limit come from its plan',
    )
    .option(
      '--because <cause>',
      'the cause that led here, as `steadycone explain` names it: offset-drift, say',
    )
    .option('--sure <share>', 'belief in that cause, 0 to 1')
    .option('--reading <id>', 'the reading that showed it, reading-3 say: the proof is held against it')
    .option('--run <file>', 'the run that showed it, in place of --reading; it is read and kept')
    .option('--emitter <name>', 'the emitter, as on the bench')
    .option('--instrument <name>', 'where it sprays')
    .option('--json', 'the first advice as JSON')
    .action(async (path: string, options: NewOptions) => {
      const document = await loadSettleDocument(options.session);
      if (options.setup !== undefined) document.setup = await loadSetupFile(options.setup);
      await withStory(document, options);
      const log = await newSettleLog(path, document);
      if (log.session.because !== undefined && !options.json) print(`${reasonWords(log.session.because)}\n`);
      printAdvice(log, options.json);
    });
}

interface NewOptions {
  session: string;
  setup?: string;
  because?: string;
  sure?: string;
  reading?: string;
  run?: string;
  emitter?: string;
  instrument?: string;
  json?: true;
}

async function withStory({ session }: SettleDocument, options: NewOptions): Promise<void> {
  const { because, reading, run, emitter, instrument } = options;
  if (emitter !== undefined) session.emitter = emitter;
  if (instrument !== undefined) session.instrument = instrument;
  if (because === undefined) {
    const lonely = (['sure', 'reading', 'run'] as const).find((name) => options[name] !== undefined);
    if (lonely !== undefined)
      throw inputError(
        'missing',
        '--because',
        '',
        `the cause that --${lonely} belongs to, such as offset-drift`,
      );
    return;
  }
  if (reading !== undefined && run !== undefined)
    throw inputError('invalid', '--run', run, 'a reading or a run, not both');
  const probability = numberOf(options.sure, '--sure');
  const before =
    reading !== undefined
      ? await openedBench((bench) => figuresOfReading(bench, reading))
      : run !== undefined
        ? await withBench(true, (bench) => figuresOfRun(bench, run))
        : undefined;
  session.because = {
    cause: because,
    ...(probability === undefined ? {} : { probability }),
    ...(before === undefined ? {} : { before }),
  };
  settleReasonFrom(session.because);
}
