/**
 * How a table of numbers is written: what parts the cells, the decimal sign, where the numbers begin, which column is what.
 * Every way of reading the first lines is tried; two ways that give different numbers are a question to the person, never
 * a guess. Headings carry the units; a row of names above a row of units is read too.
 */
import { inputError } from '../../core/errors.ts';
import { NO_NUMBER, numberAt } from './number-bytes.ts';
import type { DelimiterName, TraceOptions } from './trace-record.ts';
import { bytesOf } from './trace-text.ts';
import { type ColumnQuantity, type Heading, headingOf, unitOf, unitsOf } from './trace-units.ts';

export interface TableLayout {
  /** Byte that parts cells; a space stands for any run of spaces. */
  delimiter: number;
  decimal: number;
  /** Lines before the numbers, counted from the file's first. */
  lines_before: number;
  columns: number;
  headings: Heading[];
  invented: boolean;
}

export interface TableColumn {
  index: number;
  name: string;
  unit: string;
  /** Into SI. */
  scale: number;
}

export interface TableColumns {
  time: TableColumn | undefined;
  current: TableColumn;
  voltage: TableColumn | undefined;
  pressure: TableColumn | undefined;
  notes: string[];
}

const DELIMITERS: Record<DelimiterName, number> = { tab: 9, semicolon: 59, comma: 44, space: 32 };
const DECIMALS = { point: 46, comma: 44 } as const;
const COMMENT = /^\s*(#|%|\/\/|!)/;
/** Lines looked at after the numbers seem to begin. */
const LOOKED_AT = 60;
const WELL_READ = 0.9;

interface Reading {
  delimiter: DelimiterName;
  decimal: keyof typeof DECIMALS;
  first: number;
  columns: number;
  /** The numbers, to tell readings apart. */
  key: string;
}

/** From the first lines of a file. */
export function tableLayout(lines: readonly string[], options: TraceOptions): TableLayout {
  const readings: Reading[] = [];
  for (const delimiter of ['tab', 'semicolon', 'comma', 'space'] as const) {
    if (options.delimiter !== undefined && options.delimiter !== delimiter) continue;
    for (const decimal of ['point', 'comma'] as const) {
      if (options.decimal !== undefined && options.decimal !== decimal) continue;
      if (delimiter === 'comma' && decimal === 'comma') continue;
      const reading = readAs(lines, delimiter, decimal);
      if (reading) readings.push(reading);
    }
  }
  if (readings.length === 0) throw noNumbers(lines);
  const first = Math.min(...readings.map((reading) => reading.first));
  let apart = distinct(readings.filter((reading) => reading.first === first));
  if (apart.length > 1) {
    // The heading has as many cells as there are columns.
    const head = lines[headingLine(lines, first)] ?? '';
    const fitting = apart.filter(
      (reading) => isWords(head) && cellsOf(head, reading.delimiter).length === reading.columns,
    );
    if (fitting.length > 0) apart = fitting;
    // Named columns beside each other say more than one column whose heading holds commas.
    const several = apart.filter(
      (reading) => reading.columns > 1 && fitting.includes(reading) && columnNames(head, reading),
    );
    if (several.length === 1) apart = several;
  }
  if (apart.length > 1) {
    const ways = apart
      .map((r) => `--delimiter ${r.delimiter} --decimal ${r.decimal} (${r.columns} columns)`)
      .join(' or ');
    const line = lines[first] ?? '';
    throw inputError(
      'invalid',
      `table, line ${first + 1}`,
      `"${line.slice(0, 60)}" can be read in ${apart.length} ways`,
      ways,
    );
  }
  const chosen = apart[0]!;
  const headings = headingsOf(lines, chosen);
  return {
    delimiter: DELIMITERS[chosen.delimiter],
    decimal: DECIMALS[chosen.decimal],
    lines_before: chosen.first,
    columns: chosen.columns,
    headings,
    invented: lines.slice(0, chosen.first).some((line) => /\binvented\b/i.test(line)),
  };
}

/** Which column is what, by headings and by what the person says. */
export function tableColumns(layout: TableLayout, options: TraceOptions): TableColumns {
  const { headings, columns } = layout;
  const notes: string[] = [];
  const named = (text: string, option: string): number => {
    const number = /^\d+$/.test(text) ? Number(text) - 1 : -1;
    const at = headings.findIndex((h) => h.text === text || (h.name === text && h.name !== ''));
    const index = at >= 0 ? at : number;
    if (index < 0 || index >= columns)
      throw inputError('unknown', `column for ${option}`, text, columnsText(layout));
    return index;
  };
  const all = (quantity: ColumnQuantity): number[] =>
    headings.flatMap((heading, i) =>
      heading.quantity === quantity && (quantity === 'current' || heading.named !== 'current') ? [i] : [],
    );
  const current = currentColumn(layout, options, named, all);
  const taken = new Set([current.index]);
  const optional = (
    quantity: 'time' | 'voltage' | 'pressure',
    said: string | undefined,
    unit: string | undefined,
  ): TableColumn | undefined => {
    const option = `--${quantity}-column`;
    const candidates =
      said === undefined ? all(quantity).filter((i) => !taken.has(i)) : [named(said, option)];
    if (candidates.length === 0) return undefined;
    if (candidates.length > 1) {
      if (quantity === 'time')
        throw inputError('invalid', 'time column', namesOf(layout, candidates), `one of them with ${option}`);
      notes.push(
        `several columns could be the ${quantity} (${namesOf(layout, candidates)}); none was read; ${option} chooses`,
      );
      return undefined;
    }
    const index = candidates[0]!;
    const heading = headings[index];
    const wanted = unit ?? heading?.unit;
    const size = wanted === undefined ? undefined : unitOf(wanted);
    if (size === undefined || size.quantity !== quantity) {
      const found = `"${heading?.text ?? index + 1}"${wanted === undefined ? ' without a unit' : ` in "${wanted}"`}`;
      const expected = `one of ${unitsOf(quantity)} in the heading or with --${quantity}-unit`;
      if (quantity !== 'time' && said === undefined) {
        notes.push(`the ${quantity} column ${found} was left out; ${expected} would let it be read`);
        return undefined;
      }
      if (quantity === 'time' && options.rate_Hz !== undefined && said === undefined) return undefined;
      throw inputError(
        wanted === undefined ? 'missing' : 'invalid',
        `unit of the ${quantity} column`,
        found,
        quantity === 'time' ? `${expected}, or --rate` : expected,
      );
    }
    taken.add(index);
    return { index, name: heading?.text ?? `column ${index + 1}`, unit: size.unit, scale: size.scale };
  };
  const time = optional('time', options.time_column, options.time_unit);
  if (time === undefined && options.rate_Hz === undefined)
    throw inputError(
      'missing',
      'time',
      `no time column among ${columnsText(layout)}`,
      'a column such as time_s, --time-column with --time-unit, or --rate in samples per second',
    );
  return {
    time,
    current,
    voltage: optional('voltage', options.voltage_column, options.voltage_unit),
    pressure: optional('pressure', options.pressure_column, options.pressure_unit),
    notes,
  };
}

function currentColumn(
  layout: TableLayout,
  options: TraceOptions,
  named: (text: string, option: string) => number,
  all: (quantity: ColumnQuantity) => number[],
): TableColumn {
  const { headings } = layout;
  const resistor = options.resistor_MOhm;
  let index: number;
  if (options.column !== undefined) index = named(options.column, '--column');
  else {
    // A column called current whose unit is a volt was measured across a resistor.
    const across = headings.flatMap((h, i) => (h.named === 'current' && h.quantity === 'voltage' ? [i] : []));
    const bare = headings.flatMap((h, i) => (h.named === 'current' && h.unit === undefined ? [i] : []));
    const odd = headings.flatMap((h, i) =>
      h.named === 'current' && h.unit !== undefined && h.quantity === undefined ? [i] : [],
    );
    const wanted = [...new Set([...all('current'), ...across, ...bare, ...odd])];
    const candidates =
      wanted.length > 0
        ? wanted
        : resistor === undefined
          ? []
          : headings.flatMap((h, i) => (h.quantity === 'voltage' ? [i] : []));
    if (candidates.length === 0)
      throw inputError(
        'missing',
        'column of the current',
        columnsText(layout),
        'a heading such as current_nA, or --column with --unit',
      );
    if (candidates.length > 1)
      throw inputError(
        'invalid',
        'column of the current',
        namesOf(layout, candidates),
        'one of them with --column',
      );
    index = candidates[0]!;
  }
  const heading = headings[index];
  const unit = options.unit ?? heading?.unit;
  const found = `"${heading?.text ?? `column ${index + 1}`}"`;
  if (unit === undefined)
    throw inputError(
      'missing',
      'unit of the current',
      `${found} has none`,
      `one of ${unitsOf('current')} in the heading or with --unit`,
    );
  const size = unitOf(unit);
  const name = heading?.text ?? `column ${index + 1}`;
  if (size?.quantity === 'current') return { index, name, unit: size.unit, scale: size.scale };
  if (size?.quantity === 'voltage') {
    if (resistor === undefined)
      throw inputError(
        'missing',
        'resistor',
        `${found} is a voltage`,
        'the resistor it was measured across with --resistor_MOhm, or a current column with --column',
      );
    return {
      index,
      name,
      unit: `${size.unit} across ${resistor} MOhm`,
      scale: size.scale / (resistor * 1e6),
    };
  }
  throw inputError(
    'unknown',
    'unit of the current',
    `"${unit}" in ${found}`,
    `one of ${unitsOf('current')}, in the heading or with --unit`,
  );
}

function columnNames(head: string, reading: Reading): boolean {
  const headings = cellsOf(head, reading.delimiter).map(headingOf);
  return headings.every((h) => h.name !== '') && headings.some((h) => h.quantity !== undefined);
}

function columnsText(layout: TableLayout): string {
  if (layout.headings.length === 0) return `${layout.columns} columns without headings (numbered from 1)`;
  return `the columns ${layout.headings.map((h) => `"${h.text}"`).join(', ')}`.slice(0, 200);
}

function namesOf(layout: TableLayout, indices: readonly number[]): string {
  return indices.map((i) => `"${layout.headings[i]?.text ?? i + 1}"`).join(' or ');
}

function readAs(
  lines: readonly string[],
  delimiter: DelimiterName,
  decimal: keyof typeof DECIMALS,
): Reading | undefined {
  const rows = lines.map((line) =>
    COMMENT.test(line) || line.trim() === '' ? undefined : numbersOf(line, delimiter, DECIMALS[decimal]),
  );
  const first = rows.findIndex(
    (row) => row?.some((value) => Number.isFinite(value)) && row.every((v) => v !== NO_NUMBER),
  );
  if (first < 0) return undefined;
  const columns = rows[first]!.length;
  let read = 0;
  let seen = 0;
  let key = '';
  for (let i = first; i < rows.length && seen < LOOKED_AT; i++) {
    if (COMMENT.test(lines[i]!) || lines[i]!.trim() === '') continue;
    seen++;
    const row = rows[i];
    if (!row || row.length !== columns || row.includes(NO_NUMBER)) continue;
    read++;
    key += `${row.join(' ')}\n`;
  }
  return read >= WELL_READ * seen ? { delimiter, decimal, first, columns, key } : undefined;
}

function distinct(readings: readonly Reading[]): Reading[] {
  return readings.filter((reading, i) => readings.findIndex((other) => other.key === reading.key) === i);
}

function cellsOf(line: string, delimiter: DelimiterName): string[] {
  const plain = line.replace(COMMENT, '').trim();
  if (delimiter === 'space') return spacedCells(plain);
  return plain.split(String.fromCharCode(DELIMITERS[delimiter])).map((cell) => cell.trim());
}

/** 'time (s) current (nA)': a bracket belongs to the word before it. */
function spacedCells(text: string): string[] {
  return (text.match(/"[^"]*"|[^\s([]+(?:\s*[([][^)\]]*[)\]])?|[([][^)\]]*[)\]]/g) ?? []).map((cell) =>
    cell.trim(),
  );
}

function numbersOf(line: string, delimiter: DelimiterName, decimal: number): number[] {
  const cells =
    delimiter === 'space'
      ? line.trim().split(/[ \t]+/)
      : line.split(String.fromCharCode(DELIMITERS[delimiter]));
  // Some loggers end every line with the sign that parts cells.
  if (cells.length > 1 && cells.at(-1)!.trim() === '') cells.pop();
  return cells.map((cell) => {
    const bytes = bytesOf(cell);
    return numberAt(bytes, 0, bytes.length, decimal);
  });
}

function isWords(line: string): boolean {
  return /[A-Za-zµμ]/.test(line);
}

/** The last line with words above the numbers. */
function headingLine(lines: readonly string[], first: number): number {
  for (let i = first - 1; i >= 0; i--) if (lines[i]!.trim() !== '') return i;
  return -1;
}

function headingsOf(lines: readonly string[], reading: Reading): Heading[] {
  const at = headingLine(lines, reading.first);
  if (at < 0) return [];
  const trimmed = (cells: string[]) =>
    cells.length === reading.columns + 1 && cells.at(-1) === '' ? cells.slice(0, -1) : cells;
  const cells = trimmed(cellsOf(lines[at]!, reading.delimiter));
  if (cells.length !== reading.columns || !isWords(lines[at]!)) return [];
  const units = cells.map((cell) => unitOf(cell.replace(/^[([]|[)\]]$/g, '')));
  const above = headingLine(lines, at);
  if (units.every((unit, i) => unit !== undefined || cells[i] === '') && above >= 0) {
    const names = trimmed(cellsOf(lines[above]!, reading.delimiter));
    if (names.length === reading.columns)
      return names.map((name, i) => headingOf(units[i] ? `${name} (${units[i].unit})` : name));
  }
  return cells.map(headingOf);
}

function noNumbers(lines: readonly string[]) {
  const shown = lines.find((line) => line.trim() !== '') ?? '';
  return inputError(
    'invalid',
    'trace file',
    shown === '' ? 'no text in it' : `no table of numbers; it begins "${shown.slice(0, 60)}"`,
    'a table (CSV, TSV) of numbers, a WAV file, or raw samples with a JSON sidecar; --delimiter and --decimal settle how a table is written',
  );
}
