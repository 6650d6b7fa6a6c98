import { Command } from 'commander';
import { BASELINE_FILES, isFolder } from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { readFiles } from './read-files.ts';
import type { ReadFlags } from './read-flags.ts';
import { readQueueFolder } from './read-queue.ts';
import { readWatch } from './read-watch.ts';

export function readCommand(): Command {
  return new Command('read')
    .description(
      'which minutes of a run, and which files of a queue, can be kept, and what the files cannot tell',
    )
    .argument(
      '<path...>',
      'run files, mzML or mzXML, plain or gzip; with --queue or --watch one folder of them',
    )
    .option('--json', 'as JSON (an array for several files)')
    .option('--csv', 'as CSV: the series of a run, or one row for each file of a queue')
    .option('--svg <file>', 'also draw the run or the queue into this file')
    .option('--html <file>', 'also write a report that needs nothing else into this file')
    .option('--mzqc <file>', 'also write quality metrics as mzQC 1.0.0 into this file')
    .option('--force', 'write over files that exist')
    .option('--queue', 'all runs of a folder: table, first bad file, trends, early warning for the emitter')
    .option(
      '--watch',
      'read each file of a folder once it has stopped growing; one alert by the early warning',
    )
    .option('--deep', 'with --queue: the folders inside too')
    .option(
      '--ready',
      'can the queue start? from the last 5 to 10 minutes of a run (of the newest in a folder): start, wait or look first',
    )
    .option(
      '--steps <file>',
      'the run is a voltage walk: CSV with time_min and voltage_V, or typed as 0:1400,1.5:1450 (minute:volts)',
    )
    .option('--mask <minutes>', 'leave these minutes out, injection or wash say: 0-3,55-60')
    .option(
      '--setup <file>',
      'the set-up of the run, or of every run of a queue: its gradient tells injection, wash and re-equilibration',
    )
    .option('--voltage-at <place>', 'where the voltages of --steps were measured: supply or tip')
    .option(
      '--label <text>',
      'name of the queue on the bench, one emitter say (default: the name of the folder)',
    )
    .option('--jobs <number>', 'files read at once (default: one for each processor core)')
    .option(
      '--first <number>',
      'files that set the usual values of the early warning',
      String(BASELINE_FILES),
    )
    .option(
      '--against <run>',
      'hold the run against a good run of the same method, a file or a reading such as reading-3 (may be given again); with --queue a folder: the runs of another emitter',
      (run: string, before: string[] | undefined) => [...(before ?? []), run],
    )
    .option('--earlier', 'with --queue: hold each file against the good files before it')
    .option(
      '--on-alert <command>',
      'with --watch: run this once; STEADYCONE_ALERT and STEADYCONE_FILE tell it why',
    )
    .option('--every <seconds>', 'with --watch: time between two looks', '15')
    .option('--settle <seconds>', 'with --watch: a file that stays the same so long is read', '30')
    .option('--once', 'with --watch: end when every file there has been read')
    .option('--no-keep', 'do not store runs and readings on the bench')
    .option('--who <name>', 'initials stored with it', '')
    .action(async (paths: string[], flags: ReadFlags) => {
      const mode = modeOf(flags);
      if (mode === 'queue' || mode === 'watch') {
        const folder = paths[0]!;
        if (paths.length > 1) throw inputError('invalid', 'path', paths[1]!, `one folder with --${mode}`);
        if (!(await isFolder(folder)) && mode === 'queue')
          throw inputError('invalid', 'path', folder, 'a folder with run files with --queue');
        await (mode === 'queue' ? readQueueFolder(folder, flags) : readWatch(folder, flags));
        return;
      }
      await readFiles(paths, flags);
    });
}

function modeOf(flags: ReadFlags): 'files' | 'queue' | 'watch' {
  const chosen = (['queue', 'watch', 'ready', 'steps'] as const).filter((name) => flags[name] !== undefined);
  if (chosen.length > 1)
    throw inputError('invalid', 'options', chosen.map((name) => `--${name}`).join(' with '), 'one of them');
  if (flags.json && flags.csv) throw inputError('invalid', 'options', '--json with --csv', 'one of them');
  const only = (name: keyof ReadFlags, option: string, mode: string) => {
    if (
      flags[name] !== undefined &&
      !(mode.split(' ') as (keyof ReadFlags)[]).some((one) => flags[one] !== undefined)
    )
      throw inputError('invalid', 'option', option, `it together with --${mode.replace(' ', ' or --')}`);
  };
  for (const other of ['watch', 'ready', 'steps'] as const)
    if (flags.against && flags[other] !== undefined)
      throw inputError('invalid', 'option', `--against with --${other}`, `it without --${other}`);
  only('deep', '--deep', 'queue');
  only('earlier', '--earlier', 'queue');
  if (flags.earlier && !flags.keep)
    throw inputError(
      'invalid',
      'options',
      '--earlier with --no-keep',
      'the bench, whose readings are compared',
    );
  only('onAlert', '--on-alert', 'watch');
  only('once', '--once', 'watch');
  only('label', '--label', 'queue watch');
  only('voltageAt', '--voltage-at', 'steps');
  if (flags.watch) {
    for (const name of ['svg', 'html', 'mzqc', 'csv'] as const)
      if (flags[name] !== undefined) throw inputError('invalid', 'option', `--${name}`, 'it without --watch');
  }
  return flags.queue ? 'queue' : flags.watch ? 'watch' : 'files';
}
