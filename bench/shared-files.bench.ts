/**
 * A table of every run file beside the checkout (../shared/data), read as the command reads it, with ions and evidence; the
 * odd files in a second table: what each gives, or the one line that refuses it. A user's clone has no such folder: then it
 * says so and measures nothing.
 */
import { existsSync, readdirSync, statSync } from 'node:fs';
import { loadavg } from 'node:os';
import { join } from 'node:path';
import { readOneRun } from '../src/app/read-one-run.ts';
import { InputError } from '../src/core/errors.ts';
import { readRunFile } from '../src/formats-node/index.ts';
import { timed } from './timing.ts';

const folder = join(import.meta.dirname, '..', '..', 'shared', 'data');
const real = join(folder, 'mzml');
const odd = join(folder, 'mzml-odd');

function say(cells: readonly (string | number)[]): void {
  process.stdout.write(`| ${cells.join(' | ')} |\n`);
}

if (existsSync(real)) {
  process.stdout.write(`load ${loadavg()[0]!.toFixed(2)}\n`);
  const head =
    'file, MB, read ms, MS1, groups, times rise, NaN times, scatter, dropouts, sags, gaps, end lost, trusted, grade, undecided'.split(
      ', ',
    );
  say(head);
  say(head.map(() => '---'));
  for (const name of readdirSync(real).sort()) say(await realRow(name));
} else process.stdout.write('skipped: no folder ../shared/data/mzml beside this checkout\n');

if (existsSync(odd)) {
  const head = ['odd file', 'MS1', 'grade', 'told'];
  process.stdout.write('\n');
  say(head);
  say(head.map(() => '---'));
  for (const name of readdirSync(odd).sort()) say(await oddRow(name));
} else process.stdout.write('skipped: no folder ../shared/data/mzml-odd beside this checkout\n');

async function realRow(name: string): Promise<(string | number)[]> {
  const path = join(real, name);
  const { record } = await readRunFile(path);
  const runs: Awaited<ReturnType<typeof readOneRun>>[] = [];
  const ms = await timed(async () => runs.push(await readOneRun(path)));
  const { reading } = runs[0]!;
  const time = [...record.time_s];
  const count = (kind: string) => reading.events.filter((event) => event.kind === kind).length;
  const scatter = reading.groups[reading.main_group]?.scatter;
  return [
    name,
    (statSync(path).size / 1e6).toFixed(1),
    ms.toFixed(0),
    record.ms1_count,
    reading.groups.length,
    time.every((t, i) => i === 0 || t >= time[i - 1]!) ? 'yes' : 'no',
    time.filter(Number.isNaN).length,
    scatter == null ? '–' : `${(100 * scatter).toFixed(1)} %`,
    count('dropout'),
    count('sag'),
    count('acquisition gap'),
    count('signal lost at the end'),
    `${(100 * reading.trustworthy_share).toFixed(0)} %`,
    reading.verdict.grade,
    reading.undecided.length,
  ];
}

async function oddRow(name: string): Promise<(string | number)[]> {
  try {
    const { record } = await readRunFile(join(odd, name));
    const { reading } = await readOneRun(join(odd, name));
    const broken = record.broken ? [`stopped at byte ${record.broken.byte}: ${record.broken.reason}.`] : [];
    return [name, record.ms1_count, reading.verdict.grade, [...broken, ...record.warnings].join(' ') || '–'];
  } catch (error) {
    if (error instanceof InputError) return [name, '–', 'refused', error.message];
    throw error;
  }
}
