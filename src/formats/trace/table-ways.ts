/**
 * Every way of reading the first lines of a table (tab, semicolon, comma, space; decimal point or comma) that gives numbers. Two ways that give
 * other numbers both stay, unless the heading has the columns of one only.
 */
import { NO_NUMBER } from './number-bytes.ts';
import type { TableWay } from './open-question.ts';
import {
  cellsOf,
  type DecimalName,
  isComment,
  isNumbers,
  isWords,
  lineAbove,
  numbersOf,
} from './table-cells.ts';
import type { DelimiterName, TraceOptions } from './trace-record.ts';
import { headingOf } from './trace-units.ts';

export interface ReadWay extends TableWay {
  /** Line of the first numbers, from 0. */
  first: number;
}

/** Lines looked at after the numbers seem to begin. */
const LOOKED_AT = 60;
const WELL_READ = 0.9;

interface Candidate extends ReadWay {
  /** The numbers, to tell ways apart. */
  key: string;
}

export function tableWays(lines: readonly string[], options: TraceOptions): ReadWay[] {
  const found: Candidate[] = [];
  for (const delimiter of ['tab', 'semicolon', 'comma', 'space'] as const) {
    if (options.delimiter !== undefined && options.delimiter !== delimiter) continue;
    for (const decimal of ['point', 'comma'] as const) {
      if (options.decimal !== undefined && options.decimal !== decimal) continue;
      if (delimiter === 'comma' && decimal === 'comma') continue;
      const way = readAs(lines, delimiter, decimal);
      if (way) found.push(way);
    }
  }
  const first = Math.min(...found.map((way) => way.first));
  const apart = distinct(found.filter((way) => way.first === first));
  return apart.length > 1 ? fittingHeading(apart, lines[lineAbove(lines, first)] ?? '') : apart;
}

/** The heading has as many cells as there are columns; named columns beside each other say more than one whose heading holds commas. */
function fittingHeading(ways: Candidate[], head: string): Candidate[] {
  const fitting = ways.filter((way) => isWords(head) && cellsOf(head, way.delimiter).length === way.columns);
  if (fitting.length === 0) return ways;
  const several = fitting.filter((way) => {
    const headings = cellsOf(head, way.delimiter).map(headingOf);
    return (
      way.columns > 1 &&
      headings.every((h) => h.name !== '') &&
      headings.some((h) => h.quantity !== undefined)
    );
  });
  return several.length === 1 ? several : fitting;
}

function readAs(
  lines: readonly string[],
  delimiter: DelimiterName,
  decimal: DecimalName,
): Candidate | undefined {
  const rows = lines.map((line) =>
    isComment(line) || line.trim() === '' ? undefined : numbersOf(line, delimiter, decimal),
  );
  const first = rows.findIndex(isNumbers);
  if (first < 0) return undefined;
  const columns = rows[first]!.length;
  let read = 0;
  let seen = 0;
  let key = '';
  for (let i = first; i < rows.length && seen < LOOKED_AT; i++) {
    if (isComment(lines[i]!) || lines[i]!.trim() === '') continue;
    seen++;
    const row = rows[i];
    if (!row || row.length !== columns || row.includes(NO_NUMBER)) continue;
    read++;
    key += `${row.join(' ')}\n`;
  }
  return read >= WELL_READ * seen ? { delimiter, decimal, first, columns, key } : undefined;
}

function distinct(ways: readonly Candidate[]): Candidate[] {
  return ways.filter((way, i) => ways.findIndex((other) => other.key === way.key) === i);
}
