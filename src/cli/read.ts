import { basename } from 'node:path';
import { Command } from 'commander';
import { keepReading, readingCsv, readingText, readOneRun } from '../app/index.ts';
import { InputError } from '../core/errors.ts';
import { keptOrNot, withBench } from './keep.ts';
import { refusal } from './refusal.ts';

interface ReadOptions {
  json?: true;
  csv?: true;
  keep: boolean;
  who: string;
}

export function readCommand(): Command {
  return new Command('read')
    .description('which minutes of a run can be kept, and what the file cannot tell')
    .argument('<file...>', 'mzML or mzXML, plain or gzip')
    .option('--json', 'the reading as JSON (an array for several files)')
    .option('--csv', 'the series as CSV')
    .option('--no-keep', 'do not store the run and reading on the bench')
    .option('--who <name>', 'initials stored with it', '')
    .action(async (files: string[], options: ReadOptions) => {
      await withBench(options.keep, async (bench) => {
        const results: object[] = [];
        for (const path of files) {
          const file = basename(path);
          try {
            const onProgress = progressLine(file);
            const run = await readOneRun(path, { onProgress: onProgress.update });
            onProgress.clear();
            const kept = await keptOrNot(bench, (open) => keepReading(open, run, options.who));
            const { reading, sha256, bytes } = run;
            if (options.json) results.push({ file, sha256, bytes, ...kept, ...reading });
            else if (options.csv) process.stdout.write(readingCsv(reading));
            else
              process.stdout.write(
                `${file}\n${readingText(reading)}\n${kept ? `\nKept as ${kept.reading_id} on the bench.\n` : ''}\n`,
              );
            if (reading.broken) {
              process.stderr.write(
                `steadycone: ${file}: broken at byte ${reading.broken.byte}: ${reading.broken.reason}\n`,
              );
              process.exitCode = 1;
            }
          } catch (error) {
            if (!(error instanceof InputError)) throw error;
            process.exitCode = refusal(error);
          }
        }
        if (options.json)
          process.stdout.write(
            `${JSON.stringify(files.length === 1 ? (results[0] ?? null) : results, null, 1)}\n`,
          );
      });
    });
}

/** One line on stderr that counts bytes, on a terminal only. */
function progressLine(file: string): { update: (read: number, total: number) => void; clear: () => void } {
  const shown = process.stderr.isTTY === true;
  let last = -1;
  return {
    update: (read, total) => {
      const percent = total > 0 ? Math.floor((100 * read) / total) : 0;
      if (!shown || percent === last) return;
      last = percent;
      process.stderr.write(`\r${file}: ${percent} %`);
    },
    clear: () => {
      if (shown) process.stderr.write('\r\u001b[K');
    },
  };
}
