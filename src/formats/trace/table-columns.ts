/**
 * Which column of a table is what, by headings and by what the person says. What neither settles is an open question: for the current and the time it
 * stops the reading; a voltage or pressure that is not clear is left out and said.
 */
import { inputError } from '../../core/errors.ts';
import { OpenQuestionError } from './open-question.ts';
import type { TableLayout } from './table-layout.ts';
import type { TraceOptions } from './trace-record.ts';
import { type ColumnQuantity, unitOf, unitsOf } from './trace-units.ts';

export interface TableColumn {
  index: number;
  name: string;
  unit: string;
  /** Into SI. */
  scale: number;
  /** Times of day: read as seconds since the first. */
  clock?: true;
}

export interface TableColumns {
  time: TableColumn | undefined;
  current: TableColumn;
  voltage: TableColumn | undefined;
  pressure: TableColumn | undefined;
  notes: string[];
}

export function tableColumns(layout: TableLayout, options: TraceOptions): TableColumns {
  const current = currentColumn(layout, options);
  const time = timeColumn(layout, options, [current.index]);
  const taken = [current.index, ...(time ? [time.index] : [])];
  const notes: string[] = [];
  const beside = (quantity: 'voltage' | 'pressure') => {
    try {
      const found = columnOf(layout, quantity, options, taken);
      if (found) taken.push(found.index);
      return found;
    } catch (trouble) {
      const said = options[`${quantity}_column`] !== undefined;
      if (!(trouble instanceof OpenQuestionError) || said) throw trouble;
      const { where, found, expected } = trouble.faults[0]!;
      notes.push(`no ${quantity} was read (${where}: ${found}); it needs ${expected}`);
      return undefined;
    }
  };
  return { time, current, voltage: beside('voltage'), pressure: beside('pressure'), notes };
}

export function currentColumn(layout: TableLayout, options: TraceOptions): TableColumn {
  const { resistor_MOhm } = options;
  const index =
    options.column === undefined
      ? currentIndex(layout, resistor_MOhm)
      : named(layout, options.column, '--column');
  const heading = layout.headings[index];
  const name = heading?.text ?? `column ${index + 1}`;
  const unit = options.unit ?? heading?.unit;
  if (unit === undefined)
    throw new OpenQuestionError(
      { about: 'unit', quantity: 'current', column: index },
      'missing',
      'unit of the current',
      `"${name}" has none`,
      `one of ${unitsOf('current')} in the heading or with --unit`,
    );
  const size = unitOf(unit);
  if (size?.quantity === 'current') return { index, name, unit: size.unit, scale: size.scale };
  if (size?.quantity === 'voltage') {
    if (resistor_MOhm === undefined)
      throw new OpenQuestionError(
        { about: 'resistor', column: index },
        'missing',
        'resistor',
        `"${name}" is a voltage`,
        'the resistor it was measured across with --resistor_MOhm, or a current column with --column',
      );
    return {
      index,
      name,
      unit: `${size.unit} across ${resistor_MOhm} MOhm`,
      scale: size.scale / (resistor_MOhm * 1e6),
    };
  }
  throw new OpenQuestionError(
    { about: 'unit', quantity: 'current', column: index },
    'unknown',
    'unit of the current',
    `"${unit}" in "${name}"`,
    `one of ${unitsOf('current')}, in the heading or with --unit`,
  );
}

export function timeColumn(
  layout: TableLayout,
  options: TraceOptions,
  taken: readonly number[],
): TableColumn | undefined {
  // A stated rate stands for a time column that says no unit.
  const rated = options.rate_Hz !== undefined && options.time_column === undefined;
  let time: TableColumn | undefined;
  try {
    time = columnOf(layout, 'time', options, taken);
  } catch (trouble) {
    if (!(trouble instanceof OpenQuestionError) || !rated || trouble.question.about !== 'unit') throw trouble;
  }
  if (time === undefined && options.rate_Hz === undefined)
    throw new OpenQuestionError(
      { about: 'column', quantity: 'time', candidates: [] },
      'missing',
      'time',
      `no time column among ${columnsText(layout)}`,
      'a column such as time_s, --time-column with --time-unit, or --rate in samples per second',
    );
  return time;
}

/** Undefined where no column is of that quantity. */
export function columnOf(
  layout: TableLayout,
  quantity: 'time' | 'voltage' | 'pressure',
  options: TraceOptions,
  taken: readonly number[],
): TableColumn | undefined {
  const said = options[`${quantity}_column`];
  const option = `--${quantity}-column`;
  const candidates =
    said === undefined
      ? candidatesFor(layout, quantity).filter((i) => !taken.includes(i))
      : [named(layout, said, option)];
  if (candidates.length === 0) return undefined;
  if (candidates.length > 1)
    throw new OpenQuestionError(
      { about: 'column', quantity, candidates },
      'invalid',
      `${quantity} column`,
      namesOf(layout, candidates),
      `one of them with ${option}`,
    );
  const index = candidates[0]!;
  const heading = layout.headings[index];
  if (quantity === 'time' && layout.clocks.includes(index))
    return {
      index,
      name: heading?.text ?? `column ${index + 1}`,
      unit: 'time of day',
      scale: 1,
      clock: true,
    };
  const unit = options[`${quantity}_unit`] ?? heading?.unit;
  const size = unit === undefined ? undefined : unitOf(unit);
  if (size?.quantity !== quantity) {
    const expected = `one of ${unitsOf(quantity)} in the heading or with --${quantity}-unit`;
    throw new OpenQuestionError(
      { about: 'unit', quantity, column: index },
      unit === undefined ? 'missing' : 'invalid',
      `unit of the ${quantity} column`,
      `"${heading?.text ?? index + 1}"${unit === undefined ? ' without a unit' : ` in "${unit}"`}`,
      quantity === 'time' ? `${expected}, or --rate` : expected,
    );
  }
  return { index, name: heading?.text ?? `column ${index + 1}`, unit: size.unit, scale: size.scale };
}

function currentIndex(layout: TableLayout, resistor_MOhm: number | undefined): number {
  const { headings } = layout;
  // A column called current counts whatever its unit: a volt was measured across a resistor, none or an unknown one is asked.
  const called = headings.flatMap((h, i) =>
    h.quantity === 'current' || (h.named === 'current' && h.quantity !== 'time' && h.quantity !== 'pressure')
      ? [i]
      : [],
  );
  const candidates =
    called.length > 0 || resistor_MOhm === undefined ? called : ofQuantity(layout, 'voltage');
  if (candidates.length === 1) return candidates[0]!;
  const question = { about: 'column', quantity: 'current', candidates } as const;
  if (candidates.length === 0)
    throw new OpenQuestionError(
      question,
      'missing',
      'column of the current',
      columnsText(layout),
      'a heading such as current_nA, or --column with --unit',
    );
  throw new OpenQuestionError(
    question,
    'invalid',
    'column of the current',
    namesOf(layout, candidates),
    'one of them with --column',
  );
}

/** By heading, or by number from 1. */
function named({ headings, columns, ...layout }: TableLayout, text: string, option: string): number {
  const at = headings.findIndex((h) => h.text === text || (h.name === text && h.name !== ''));
  const index = at >= 0 ? at : /^\d+$/.test(text) ? Number(text) - 1 : -1;
  if (index < 0 || index >= columns)
    throw inputError('unknown', `column for ${option}`, text, columnsText({ headings, columns, ...layout }));
  return index;
}

/** A column of clocks is the time, whatever its heading. */
function candidatesFor(layout: TableLayout, quantity: 'time' | 'voltage' | 'pressure'): number[] {
  const { clocks } = layout;
  if (quantity !== 'time') return ofQuantity(layout, quantity);
  return clocks.length > 0 ? clocks : ofQuantity(layout, 'time');
}

function ofQuantity({ headings }: TableLayout, quantity: ColumnQuantity): number[] {
  return headings.flatMap((heading, i) =>
    heading.quantity === quantity && heading.named !== 'current' ? [i] : [],
  );
}

function columnsText({ headings, columns }: TableLayout): string {
  if (headings.length === 0) return `${columns} columns without headings (numbered from 1)`;
  return `the columns ${headings.map((h) => `"${h.text}"`).join(', ')}`.slice(0, 200);
}

function namesOf({ headings }: TableLayout, indices: readonly number[]): string {
  return indices.map((i) => `"${headings[i]?.text ?? i + 1}"`).join(' or ');
}
