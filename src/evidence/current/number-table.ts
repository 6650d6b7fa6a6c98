/**
 * Small tables that a person types beside a trace: steps of the voltage, steps of the flow, currents against flow. Headings carry the units;
 * comma, semicolon or tab between the cells, lines that begin with # passed over. Marks typed in one line stand for a table of two
 * columns: '0=1500, 12.5=1600' is seconds = volts.
 */
import { type Fault, InputError, inputError } from '../../core/errors.ts';
import { cellNumber, tableLines } from '../table-lines.ts';

export interface WantedColumn {
  key: string;
  /** Headings with the factor into the key's unit. */
  headings: Record<string, number>;
  needed: boolean;
}

const MOST_ROWS = 5000;

export function numberTable(
  text: string,
  name: string,
  wanted: readonly WantedColumn[],
): Record<string, number>[] {
  const { head, rows: lines, separator } = tableLines(text);
  const asked = wanted.map((column) => Object.keys(column.headings).join(' or ')).join(', ');
  if (!head) throw inputError('missing', 'table', `${name} is empty`, `a heading with ${asked}`);
  const headings = head.cells;
  const columns = wanted.flatMap((column) => {
    const heading = Object.keys(column.headings).find((text) => headings.includes(text));
    if (heading !== undefined)
      return [{ ...column, at: headings.indexOf(heading), factor: column.headings[heading]! }];
    if (!column.needed) return [];
    throw inputError(
      'missing',
      'column',
      `${name}, line ${head.number}: ${headings.join(', ').slice(0, 80)}`,
      Object.keys(column.headings).join(' or '),
    );
  });
  const faults: Fault[] = [];
  const rows = lines.slice(0, MOST_ROWS - 1).flatMap(({ cells, number }) => {
    const row: Record<string, number> = {};
    for (const { key, at, factor } of columns) {
      const cell = cells[at] ?? '';
      const value = cellNumber(cell, separator);
      if (!Number.isFinite(value) || cells.length > headings.length) {
        faults.push({
          kind: 'invalid',
          where: `${name}, line ${number}, ${headings[at]}`,
          found: cell,
          expected: 'a number',
        });
        return [];
      }
      row[key] = value * factor;
    }
    return [row];
  });
  if (faults.length > 0) throw new InputError(faults.slice(0, 8));
  if (rows.length === 0)
    throw inputError('missing', 'rows', name, 'one line for each step below the heading');
  return rows;
}

/** '0=1500, 12.5=1600' into pairs; undefined where the text is no such list. */
export function typedMarks(text: string): [number, number][] | undefined {
  if (!/^\s*-?[\d.]+\s*=/.test(text)) return undefined;
  return text.split(/[,;]/).map((part) => {
    const match = /^\s*(-?\d+(?:\.\d+)?)\s*=\s*(-?\d+(?:\.\d+)?)\s*$/.exec(part);
    if (!match) throw inputError('invalid', 'marks', part.trim(), 'seconds=value, such as 0=1500,10=1600');
    return [Number(match[1]), Number(match[2])];
  });
}

const TIME: WantedColumn = { key: 'time_s', headings: { time_s: 1, time_min: 60 }, needed: true };

export function voltageSteps(text: string, name: string): { time_s: number; voltage_V: number }[] {
  const marks = typedMarks(text);
  const rows = marks
    ? marks.map(([time_s, voltage_V]) => ({ time_s, voltage_V }))
    : numberTable(text, name, [
        TIME,
        { key: 'voltage_V', headings: { voltage_V: 1, voltage_kV: 1000 }, needed: true },
      ]);
  return rows.map((row) => ({ time_s: row.time_s!, voltage_V: Math.abs(row.voltage_V!) }));
}

/** Flows with the time they were set, or with the current that was read. */
export function flowSteps(
  text: string,
  name: string,
): { flow_nL_min: number; time_s?: number; current_nA?: number }[] {
  const marks = typedMarks(text);
  if (marks) return marks.map(([time_s, flow_nL_min]) => ({ time_s, flow_nL_min }));
  const rows = numberTable(text, name, [
    { ...TIME, needed: false },
    { key: 'flow_nL_min', headings: { flow_nL_min: 1, flow_uL_min: 1000 }, needed: true },
    { key: 'current_nA', headings: { current_nA: 1, current_uA: 1000 }, needed: false },
  ]);
  return rows.map((row) => {
    if (row.time_s === undefined && row.current_nA === undefined)
      throw inputError(
        'missing',
        'column',
        name,
        'time_s (read from the trace) or current_nA beside flow_nL_min',
      );
    return {
      flow_nL_min: row.flow_nL_min!,
      ...(row.time_s === undefined ? {} : { time_s: row.time_s }),
      ...(row.current_nA === undefined ? {} : { current_nA: row.current_nA }),
    };
  });
}
