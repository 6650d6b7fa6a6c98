/** How the settle commands print: the advice, warnings, files written. */
import { writeFile } from 'node:fs/promises';
import type { SettleLog } from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { type Advice, marginWords, nextMove, pointWords } from '../core/settling/index.ts';

export function printAdvice({ session, warnings }: SettleLog, json: true | undefined): void {
  sayAll(warnings);
  const advice = nextMove(session);
  print(json ? JSON.stringify(advice, null, 2) : adviceText(session, advice).join('\n'));
}

function adviceText(session: SettleLog['session'], advice: Advice): string[] {
  const lines = [advice.sentence];
  if (advice.question !== undefined) lines.push(`  Ask first: ${advice.question}`);
  for (const caution of advice.cautions) lines.push(`  ${caution}`);
  const { best } = advice;
  if (best === undefined) return lines;
  lines.push(
    '',
    `Best so far: ${pointWords(session, best.at)}; level ${best.level.toPrecision(3)}; within 5 % of the best: ${Math.round(100 * best.chance_within_5_percent)} %; steady: ${Math.round(100 * best.chance_steady)} %.`,
    best.flatness,
    ...best.margins.map((margin) => `  ${marginWords(margin)}`),
    `Rests on ${advice.rests_on}; ${session.readings.length} readings, ${advice.taken.filter((t) => t === 'event').length} of them events. This step takes about ${advice.cost_s} s.`,
  );
  return lines;
}

export async function written(path: string, text: string): Promise<void> {
  await writeFile(path, text).catch((error: NodeJS.ErrnoException) => {
    throw inputError(
      'invalid',
      'output file',
      `${path} (${error.code ?? 'unknown'})`,
      'a file you may write',
    );
  });
  process.stderr.write(`steadycone: wrote ${path}\n`);
}

export function sayAll(warnings: readonly string[]): void {
  for (const warning of warnings) process.stderr.write(`steadycone: ${warning}\n`);
}

export function print(text: string): void {
  process.stdout.write(`${text}\n`);
}
