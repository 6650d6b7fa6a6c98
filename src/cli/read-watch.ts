/** `read DIR --watch`: a line for each file once it has stopped growing, and one alert. */
import { spawn } from 'node:child_process';
import { basename, resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { keptText, watchFolder } from '../app/index.ts';
import { sayNotKept, withBench } from './keep.ts';
import { firstOf, jobsOf, labelOf, maskOf, methodSetup, type ReadFlags, wholeNumber } from './read-flags.ts';

const BELL = '\u0007';

export async function readWatch(folder: string, flags: ReadFlags): Promise<void> {
  const mask = maskOf(flags);
  const setup = await methodSetup(flags.setup);
  const every_s = wholeNumber(flags.every, 'every', 1, 3600) ?? 15;
  const settle_s = wholeNumber(flags.settle, 'settle', 1, 3600) ?? 30;
  const label = labelOf(flags, folder);
  await withBench(flags.keep, async (bench) => {
    const stop = new AbortController();
    const onSignal = () => stop.abort();
    process.once('SIGINT', onSignal);
    process.once('SIGTERM', onSignal);
    // The person's commands run beside the watch: one that waits for them must not keep files from being read.
    const commands: Promise<void>[] = [];
    let trouble = false;
    const watch = watchFolder(folder, {
      bench,
      label,
      who: flags.who,
      jobs: jobsOf(flags),
      mask,
      setup,
      baseline_files: firstOf(flags),
      settle_s,
      ...(flags.once ? { rest_s: settle_s } : {}),
      signal: stop.signal,
      onFile: (file) => {
        const words = keptText(file);
        const line = {
          file: file.name,
          grade: file.summary?.grade ?? 'not read',
          reading_id: file.reading_id,
          words,
        };
        process.stdout.write(flags.json ? `${JSON.stringify(line)}\n` : `${file.name}: ${words}\n`);
      },
      onAlert: (sentence, report) => {
        const file = report.warning.alarm ? (report.files[report.warning.alarm.file]?.name ?? '') : '';
        if (flags.json) process.stdout.write(`${JSON.stringify({ alert: sentence, file })}\n`);
        else process.stdout.write(`ALERT: ${sentence}\n`);
        process.stderr.write(BELL);
        if (flags.onAlert !== undefined) commands.push(ran(flags.onAlert, sentence, file));
      },
      onTrouble: (reason) => {
        trouble = reason !== undefined;
        process.stderr.write(
          reason === undefined
            ? 'steadycone: the folder answers again\n'
            : `steadycone: ${reason}${flags.once ? '' : '; trying again'}\n`,
        );
      },
      onJudgedAnew: (files) =>
        process.stderr.write(
          `steadycone: ${files === 1 ? 'one file was' : `${files} files were`} judged before with another set-up, other minutes left out or another version; ${files === 1 ? 'it is' : 'they are'} judged and told anew\n`,
        ),
      onNotKept: sayNotKept,
    });
    process.stderr.write(
      `Watching ${basename(resolve(folder))} as "${label}", every ${every_s} s. Ctrl+C ends it; started again it goes on.\n`,
    );
    while (!stop.signal.aborted) {
      const waiting = await watch.look(Date.now());
      if (flags.once && waiting === 0) break;
      await sleep(1000 * every_s, undefined, { signal: stop.signal }).catch(() => {});
    }
    await Promise.all(commands);
    if (flags.once && trouble) process.exitCode = 1;
    process.removeListener('SIGINT', onSignal);
    process.removeListener('SIGTERM', onSignal);
  });
}

/** The person's own command, by their shell; what it is told stands in its environment, never in its words. */
function ran(command: string, sentence: string, file: string): Promise<void> {
  return new Promise((done) => {
    const child = spawn(command, {
      shell: true,
      stdio: ['ignore', 'inherit', 'inherit'],
      env: { ...process.env, STEADYCONE_ALERT: sentence, STEADYCONE_FILE: file },
    });
    const failed = (why: string) => {
      process.stderr.write(`steadycone: the alert's command ${why}\n`);
      done();
    };
    child.once('error', (error) => failed(`could not start: ${error.message}`));
    child.once('exit', (code) => (code === 0 ? done() : failed(`ended with ${code}`)));
  });
}
