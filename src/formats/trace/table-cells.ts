/** Lines of a table into cells and numbers, for each way a table may be written. */
import { clockSeconds, isDate } from './clock-times.ts';
import { NO_NUMBER, numberAt } from './number-bytes.ts';
import type { DelimiterName } from './trace-record.ts';
import { bytesOf } from './trace-text.ts';

export const DELIMITERS: Record<DelimiterName, number> = { tab: 9, semicolon: 59, comma: 44, space: 32 };
export const DECIMALS = { point: 46, comma: 44 } as const;
export type DecimalName = keyof typeof DECIMALS;

const COMMENT = /^\s*(#|%|\/\/|!)/;

export function isComment(line: string): boolean {
  return COMMENT.test(line);
}

export function isWords(line: string): boolean {
  return /[A-Za-zµμ]/.test(line);
}

/** Cells of a heading, without the sign of a comment before it. */
export function cellsOf(line: string, delimiter: DelimiterName): string[] {
  const plain = line.replace(COMMENT, '').trim();
  if (delimiter === 'space') return spacedCells(plain);
  return plain.split(String.fromCharCode(DELIMITERS[delimiter])).map((cell) => cell.trim());
}

/** Cells of a row of numbers, as written. Some loggers end every line with the sign that parts cells. */
export function rowCells(line: string, delimiter: DelimiterName): string[] {
  const cells =
    delimiter === 'space'
      ? line.trim().split(/[ \t]+/)
      : line.split(String.fromCharCode(DELIMITERS[delimiter]));
  if (cells.length > 1 && cells.at(-1)!.trim() === '') cells.pop();
  return cells;
}

/** A time of day or a date is no number of its own, and no word either: it reads as missing. */
export function numbersOf(line: string, delimiter: DelimiterName, decimal: DecimalName): number[] {
  return rowCells(line, delimiter).map((cell) => {
    const bytes = bytesOf(cell);
    const value = numberAt(bytes, 0, bytes.length, DECIMALS[decimal]);
    return value === NO_NUMBER && (clockSeconds(cell) || isDate(cell)) ? Number.NaN : value;
  });
}

/** No empty line, no comment, every cell a number or a word for a missing one, and at least one number. */
export function isNumbers(row: readonly number[] | undefined): row is number[] {
  return row?.some(Number.isFinite) === true && row.every((value) => value !== NO_NUMBER);
}

/** The last line that is not empty before `first`; -1 where there is none. */
export function lineAbove(lines: readonly string[], first: number): number {
  for (let i = first - 1; i >= 0; i--) if (lines[i]!.trim() !== '') return i;
  return -1;
}

/** 'time (s) current (nA)': a bracket belongs to the word before it. */
function spacedCells(text: string): string[] {
  return (text.match(/"[^"]*"|[^\s([]+(?:\s*[([][^)\]]*[)\]])?|[([][^)\]]*[)\]]/g) ?? []).map((cell) =>
    cell.trim(),
  );
}
