/** `read FILE...`: each run by itself, as text, JSON or CSV, with its reports. */
import { basename } from 'node:path';
import {
  type AgainstReading,
  againstCsv,
  againstText,
  csvCell,
  goodRuns,
  heldAgainst,
  isFolder,
  keepReading,
  loadSteps,
  localOffset,
  type MzqcRun,
  newestRunOf,
  type RunReading,
  readiness,
  readingCsv,
  readingHtml,
  readingSvg,
  readingText,
  readOneRun,
  readWalk,
  readyText,
  runMetrics,
  runSummary,
  version,
  walkCsv,
  walkSvg,
  walkText,
} from '../app/index.ts';
import { InputError, inputError } from '../core/errors.ts';
import { keptOrNot, withBench } from './keep.ts';
import { checkFree, writeMzqc, writeText } from './output-file.ts';
import { progressLine } from './progress.ts';
import { maskOf, methodSetup, type ReadFlags } from './read-flags.ts';
import { refusal } from './refusal.ts';

export async function readFiles(paths: readonly string[], flags: ReadFlags): Promise<void> {
  const several = paths.length > 1;
  if (several && (flags.svg !== undefined || flags.html !== undefined)) {
    const option = flags.svg !== undefined ? '--svg' : '--html';
    throw inputError(
      'invalid',
      'option',
      `${option} with ${paths.length} files`,
      'one file, or a folder with --queue',
    );
  }
  if (several && flags.steps !== undefined)
    throw inputError('invalid', 'option', `--steps with ${paths.length} files`, 'one file');
  const force = flags.force === true;
  await checkFree([flags.svg, flags.html, flags.mzqc], force);
  const mask = maskOf(flags);
  const setup = await methodSetup(flags.setup);
  const at = voltageAt(flags.voltageAt);
  const steps = flags.steps === undefined ? undefined : await loadSteps(flags.steps);

  await withBench(flags.keep, async (bench) => {
    const results: object[] = [];
    const metrics: MzqcRun[] = [];
    const good = await goodRuns(flags.against ?? [], bench);
    let heading = true;
    for (const given of paths) {
      let path = given;
      let file = basename(path);
      const line = progressLine();
      try {
        if (flags.ready && (await isFolder(path))) {
          path = await newestRunOf(path);
          file = basename(path);
        } else if (await isFolder(path))
          throw inputError(
            'invalid',
            'run file',
            `${file}, a folder`,
            'a run file; for a folder add --queue, --watch or --ready',
          );
        const run = await readOneRun(path, {
          mask,
          setup,
          scanTable: flags.mzqc !== undefined,
          onProgress: (read, total) =>
            line.say(`${file}: ${total > 0 ? Math.floor((100 * read) / total) : 0} %`),
        });
        line.clear();
        // A run that is only asked whether it may start is not over: it is not kept.
        const kept = flags.ready
          ? undefined
          : await keptOrNot(bench, (open) => keepReading(open, run, flags.who));
        const { reading, sha256, bytes } = run;
        const facts = { file, sha256, bytes, ...kept };
        const against = heldAgainst(reading, good);
        const said = saidOf(reading, flags, steps, at, against);
        if (flags.json) results.push({ ...facts, ...said.json });
        else if (flags.csv) {
          process.stdout.write(several ? withFileColumn(said.csv, file, heading) : said.csv);
          heading = false;
        } else {
          const note = kept ? `\nKept as ${kept.reading_id} on the bench.\n` : '';
          process.stdout.write(`${file}\n${said.text}${note}\n`);
        }
        metrics.push({
          name: file,
          sha256,
          format: reading.format,
          metrics: runMetrics(runSummary(reading), run.metrics),
        });
        if (flags.svg !== undefined)
          await writeText(flags.svg, said.svg ?? readingSvg(reading, against), force);
        if (flags.html !== undefined) {
          const stamp = { made: new Date().toISOString(), version: version(), offset_min: localOffset };
          await writeText(flags.html, readingHtml(file, reading, stamp, against), force);
        }
        // A run that is still being written ends in its middle: for --ready that is as it should be.
        if (reading.broken && !flags.ready) {
          process.stderr.write(
            `steadycone: ${file}: broken at byte ${reading.broken.byte}: ${reading.broken.reason}\n`,
          );
          process.exitCode = 1;
        }
      } catch (error) {
        line.clear();
        if (!(error instanceof InputError)) throw error;
        process.exitCode = refusal(error, several ? file : undefined);
        if (flags.json) results.push({ file, error: error.message });
      }
    }
    if (flags.mzqc !== undefined) await writeMzqc(flags.mzqc, metrics, force);
    if (flags.json) {
      process.stdout.write(`${JSON.stringify(several ? results : (results[0] ?? null), null, 1)}\n`);
    }
  });
}

function saidOf(
  reading: RunReading,
  flags: ReadFlags,
  steps: Awaited<ReturnType<typeof loadSteps>> | undefined,
  at: 'supply' | 'tip' | 'not stated',
  against: AgainstReading | undefined,
): { text: string; csv: string; json: object; svg?: string } {
  if (flags.ready) {
    const ready = readiness(reading);
    const csv = `state,from_min,to_min,scans,scatter,drift,clamped_share\r\n${[ready.state, ready.from_s / 60, ready.to_s / 60, ready.scans, ready.scatter ?? '', ready.drift ?? '', ready.clamped_share ?? ''].join(',')}\r\n`;
    return { text: readyText(ready), csv, json: { ready } };
  }
  if (steps) {
    const walk = readWalk(reading, steps, at);
    return { text: walkText(walk), csv: walkCsv(walk), json: { walk }, svg: walkSvg(walk) };
  }
  if (against)
    return {
      text: `${readingText(reading)}${againstText(against)}`,
      csv: againstCsv(against),
      json: { ...reading, against },
    };
  return { text: readingText(reading), csv: readingCsv(reading), json: reading };
}

function voltageAt(text: string | undefined): 'supply' | 'tip' | 'not stated' {
  if (text === undefined) return 'not stated';
  if (text === 'supply' || text === 'tip') return text;
  throw inputError('unknown', 'voltage-at', text, 'supply or tip');
}

/** The rows of one file below the one heading, its name in front. */
function withFileColumn(csv: string, file: string, heading: boolean): string {
  const [head, ...rows] = csv.trimEnd().split('\r\n');
  const cell = csvCell(file);
  const lines = [...(heading ? [`file,${head}`] : []), ...rows.map((row) => `${cell},${row}`)];
  return `${lines.join('\r\n')}\r\n`;
}
