/**
 * A table of the real runs beside the checkout (../shared/data/mzml): MS1 count, rising times, NaN, scatter, events, share,
 * grade. A user's clone has no such folder: then it says so and measures nothing.
 */
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { readRun } from '../src/evidence/index.ts';
import { readRunFile } from '../src/formats-node/index.ts';
import { timed } from './timing.ts';

const folder = join(import.meta.dirname, '..', '..', 'shared', 'data', 'mzml');
if (existsSync(folder)) {
  process.stdout.write(
    '| file | MB | read ms | MS1 | groups | times rise | NaN times | scatter | dropouts | sags | gaps | end lost | trusted | grade | undecided |\n',
  );
  process.stdout.write('|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|\n');
  for (const name of readdirSync(folder).sort()) process.stdout.write(`${await row(name)}\n`);
} else process.stdout.write(`skipped: no folder ../shared/data/mzml beside this checkout\n`);

async function row(name: string): Promise<string> {
  const path = join(folder, name);
  const results: Awaited<ReturnType<typeof readRunFile>>[] = [];
  const ms = await timed(async () => results.push(await readRunFile(path)));
  const { record } = results[0]!;
  const reading = readRun(record);
  const time = [...record.time_s];
  const rising = time.every((t, i) => i === 0 || t >= time[i - 1]!);
  const nan = time.filter(Number.isNaN).length;
  const count = (kind: string) => reading.events.filter((event) => event.kind === kind).length;
  const scatter = reading.groups[reading.main_group]?.scatter;
  return `| ${[
    name,
    (statSync(path).size / 1e6).toFixed(1),
    ms.toFixed(0),
    record.ms1_count,
    reading.groups.length,
    rising ? 'yes' : 'no',
    nan,
    scatter == null ? '–' : `${(100 * scatter).toFixed(1)} %`,
    count('dropout'),
    count('sag'),
    count('acquisition gap'),
    count('signal lost at the end'),
    `${(100 * reading.trustworthy_share).toFixed(0)} %`,
    reading.verdict.grade,
    reading.undecided.length,
  ].join(' | ')} |`;
}
