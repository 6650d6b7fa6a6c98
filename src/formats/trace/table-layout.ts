/**
 * How a table of numbers is written: what parts the cells, the decimal sign, where the numbers begin, the headings. Two ways that give different
 * numbers are a question to the person, never a guess. Headings carry the units; a row of names above a row of units is read too.
 */
import { inputError } from '../../core/errors.ts';
import { clockSeconds } from './clock-times.ts';
import { OpenQuestionError } from './open-question.ts';
import { cellsOf, DECIMALS, DELIMITERS, isComment, isWords, lineAbove, rowCells } from './table-cells.ts';
import { type ReadWay, tableWays } from './table-ways.ts';
import type { TraceOptions } from './trace-record.ts';
import { type Heading, headingOf, unitOf } from './trace-units.ts';

export interface TableLayout {
  /** Byte that parts cells; a space stands for any run of spaces. */
  delimiter: number;
  decimal: number;
  /** Lines before the numbers, counted from the file's first. */
  lines_before: number;
  columns: number;
  headings: Heading[];
  /** Columns of times of day, by their number from 0. */
  clocks: number[];
  invented: boolean;
}

/** From the first lines of a file. */
export function tableLayout(
  lines: readonly string[],
  options: TraceOptions,
  ways: readonly ReadWay[] = tableWays(lines, options),
): TableLayout {
  const chosen = ways[0];
  if (chosen === undefined) throw noNumbers(lines);
  if (ways.length > 1) throw severalWays(ways, lines[chosen.first] ?? '');
  return layoutOf(lines, chosen);
}

export function layoutOf(lines: readonly string[], way: ReadWay): TableLayout {
  return {
    delimiter: DELIMITERS[way.delimiter],
    decimal: DECIMALS[way.decimal],
    lines_before: way.first,
    columns: way.columns,
    headings: headingsOf(lines, way),
    clocks: rowCells(lines[way.first]!, way.delimiter).flatMap((cell, i) => (clockSeconds(cell) ? [i] : [])),
    invented: lines.slice(0, way.first).some((line) => /\binvented\b/i.test(line)),
  };
}

function headingsOf(lines: readonly string[], way: ReadWay): Heading[] {
  const at = lineAbove(lines, way.first);
  if (at < 0) return [];
  const trimmed = (cells: string[]) =>
    cells.length === way.columns + 1 && cells.at(-1) === '' ? cells.slice(0, -1) : cells;
  const cells = trimmed(cellsOf(lines[at]!, way.delimiter));
  if (cells.length !== way.columns || !isWords(lines[at]!)) return [];
  const units = cells.map((cell) => unitOf(cell.replace(/^[([]|[)\]]$/g, '')));
  const above = lineAbove(lines, at);
  if (units.every((unit, i) => unit !== undefined || cells[i] === '') && above >= 0) {
    const names = trimmed(cellsOf(lines[above]!, way.delimiter));
    if (names.length === way.columns)
      return names.map((name, i) => headingOf(units[i] ? `${name} (${units[i].unit})` : name));
  }
  return cells.map(headingOf);
}

function severalWays(ways: readonly ReadWay[], line: string): OpenQuestionError {
  return new OpenQuestionError(
    { about: 'way', ways: ways.map(({ delimiter, decimal, columns }) => ({ delimiter, decimal, columns })) },
    'invalid',
    `table, line ${ways[0]!.first + 1}`,
    `"${line.slice(0, 60)}" can be read in ${ways.length} ways`,
    ways.map((r) => `--delimiter ${r.delimiter} --decimal ${r.decimal} (${r.columns} columns)`).join(' or '),
  );
}

const TRACE = 'a table (CSV, TSV) of numbers, a WAV file, or raw samples with a JSON sidecar';
const OPTIONS = '--delimiter and --decimal settle how a table is written';

function noNumbers(lines: readonly string[]) {
  const shown = lines.find((line) => line.trim() !== '') ?? '';
  if (shown === '') return inputError('invalid', 'trace file', 'no text in it', TRACE);
  const cut = (line: string) => `"${line.trim().slice(0, 60)}"`;
  const at = lines.findIndex((line) => !isComment(line) && ROW_LIKE.test(line));
  if (at >= 0)
    return inputError(
      'invalid',
      'trace file',
      `no table of numbers: line ${at + 1} ${cut(lines[at]!)}`,
      `plain numbers in every cell (12.5, 12,5 or 1.25e1; no unit, no sign between thousands), times in numbers or as 9:59:55.123; ${OPTIONS}`,
    );
  return inputError(
    'invalid',
    'trace file',
    `no table of numbers; it begins ${cut(shown)} and has no row of numbers`,
    `${TRACE}; ${OPTIONS}`,
  );
}

/** Begins as a row of samples does. */
const ROW_LIKE = /^\s*["']?[-+\u2212]?[.,]?\d/;
