/** `read DIR --queue`: all runs of a folder, several at a time; Ctrl+C keeps what is done. */
import {
  compareEmitters,
  type EmitterComparison,
  foldersWithRuns,
  localOffset,
  queueAgainstEarlier,
  queueCsv,
  queueHtml,
  queueReport,
  queueSvg,
  queueText,
  type ReadQueue,
  readQueue,
  runFilesOf,
  runFilesUnder,
  runMetrics,
  version,
} from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { sayNotKept, withBench } from './keep.ts';
import { checkFree, writeMzqc, writeText } from './output-file.ts';
import { progressLine, timeLeft } from './progress.ts';
import { firstOf, jobsOf, labelOf, maskOf, methodSetup, type ReadFlags } from './read-flags.ts';

/** What a shell expects of a program that Ctrl+C ended. */
const STOPPED_BY_PERSON = 130;

export async function readQueueFolder(folder: string, flags: ReadFlags): Promise<void> {
  const force = flags.force === true;
  const jobs = jobsOf(flags);
  const mask = maskOf(flags);
  const setup = await methodSetup(flags.setup);
  const label = labelOf(flags, folder);
  const baseline_files = firstOf(flags);
  await checkFree([flags.svg, flags.html, flags.mzqc], force);
  const paths = await filesOf(folder, flags);
  const [against, ...more] = flags.against ?? [];
  if (more.length > 0) throw inputError('invalid', 'against', more.join(', '), 'one folder with --queue');
  const others = against === undefined ? [] : await filesOf(against, flags);
  const other = against === undefined ? '' : labelOf({ ...flags, label: undefined }, against);
  if (against !== undefined && other === label)
    throw inputError(
      'invalid',
      'against',
      other,
      'another name than the first queue has; --label names the first',
    );
  await withBench(flags.keep, async (bench) => {
    const stop = new AbortController();
    const onSignal = () => stop.abort();
    process.once('SIGINT', onSignal);
    process.once('SIGTERM', onSignal);
    const line = progressLine();
    const read = (list: readonly string[], label: string): Promise<ReadQueue> =>
      readQueue(list, {
        bench,
        label,
        baseline_files,
        who: flags.who,
        jobs,
        mask,
        setup,
        signal: stop.signal,
        onProgress: (p) =>
          line.say(
            `${p.files_done} of ${p.files} files, ${p.bytes > 0 ? Math.floor((100 * p.bytes_done) / p.bytes) : 100} %${timeLeft(p.seconds_left)}`,
          ),
        onFile: (file) => {
          const fault = file.refusal ?? file.summary?.broken ?? null;
          if (fault === null) return;
          line.clear();
          process.stderr.write(`steadycone: ${file.name}: ${fault}\n`);
          process.exitCode = 1;
        },
        onNotKept: (error) => {
          line.clear();
          sayNotKept(error);
        },
      });
    try {
      const queue = await read(paths, label);
      const report = queueReport(queue.files, { label, baseline_files });
      let comparison: EmitterComparison | undefined;
      if (against !== undefined && !stop.signal.aborted) {
        const second = await read(others, other);
        comparison = compareEmitters(runsOf(queue), runsOf(second), [label, other]);
      }
      const earlier =
        flags.earlier && bench && !stop.signal.aborted
          ? await queueAgainstEarlier(bench, report.files)
          : undefined;
      line.clear();
      if (flags.json) {
        const document = {
          ...report,
          ...(comparison ? { comparison } : {}),
          ...(earlier ? { earlier } : {}),
          files_left: queue.left,
        };
        process.stdout.write(`${JSON.stringify(document, null, 1)}\n`);
      } else if (flags.csv) process.stdout.write(queueCsv(report));
      else {
        process.stdout.write(queueText(report));
        if (earlier)
          process.stdout.write(
            `\nEach against the good files before it\n${earlier.map(({ sentence }) => `  ${sentence}`).join('\n')}\n`,
          );
        if (comparison)
          process.stdout.write(
            `\nAgainst ${other}\n${[...comparison.differences.map((one) => one.sentence), ...comparison.cautions].map((text) => `  ${text}`).join('\n')}\n`,
          );
      }
      if (flags.svg !== undefined) await writeText(flags.svg, queueSvg(report), force);
      if (flags.html !== undefined) {
        const stamp = { made: new Date().toISOString(), version: version(), offset_min: localOffset };
        await writeText(flags.html, queueHtml(report, stamp, comparison), force);
      }
      if (flags.mzqc !== undefined) {
        const runs = queue.files.flatMap((file) =>
          file.summary === null || file.format === null || file.sha256 === null
            ? []
            : [
                {
                  name: file.name,
                  sha256: file.sha256,
                  format: file.format,
                  metrics: runMetrics(file.summary, file.metrics),
                },
              ],
        );
        await writeMzqc(flags.mzqc, runs, force);
      }
      if (queue.left > 0 || stop.signal.aborted) {
        const kept = bench ? 'what is read is kept; the same command goes on from there' : 'nothing was kept';
        process.stderr.write(
          `steadycone: stopped: ${queue.left} of ${paths.length} files not read; ${kept}\n`,
        );
        process.exitCode = STOPPED_BY_PERSON;
      }
    } finally {
      process.removeListener('SIGINT', onSignal);
      process.removeListener('SIGTERM', onSignal);
    }
  });
}

function runsOf(queue: ReadQueue) {
  return queue.files.flatMap((file) => (file.summary && file.same_as === null ? [file.summary] : []));
}

async function filesOf(folder: string, { deep }: ReadFlags): Promise<string[]> {
  const paths = await (deep ? runFilesUnder(folder) : runFilesOf(folder));
  const left = deep ? 0 : await foldersWithRuns(folder);
  const hint = left === 0 ? '' : `${left === 1 ? 'one folder' : `${left} folders`} inside with run files`;
  if (paths.length === 0)
    throw inputError(
      'missing',
      'run files',
      hint === '' ? folder : `${folder}, ${hint}`,
      `a folder with .mzML or .mzXML files, plain or .gz${hint === '' ? '' : '; --deep reads the folders inside too'}`,
    );
  if (hint !== '') process.stderr.write(`steadycone: not read: ${hint}; --deep reads them too\n`);
  return paths;
}
