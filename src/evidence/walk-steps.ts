/**
 * The steps of a voltage walk, typed as marks or as a table: a small table beside the run with the columns time_min and voltage_V, comma, semicolon
 * or tab between them, other columns passed over, lines that begin with # too. Decimal commas are refused where the comma
 * also separates; with semicolons or tabs they are read.
 */
import { type Fault, InputError, inputError } from '../core/errors.ts';
import { cellNumber, tableLines } from './table-lines.ts';
import type { WalkStep } from './walk.ts';

/** Beyond any supply this program plans for [V]. */
const VOLTAGE_MAX = 5000;

/** Marks as one types them: `0:1400,1.5:1450` for 1400 V from minute 0 and 1450 V from minute 1.5. */
export function isTypedSteps(text: string): boolean {
  return /^\s*[\d.]+\s*:/.test(text);
}

export function stepsTyped(text: string): WalkStep[] {
  const rows = text.split(',').map((mark) => mark.split(':'));
  const odd = rows.findIndex((cells) => cells.length !== 2);
  if (odd >= 0)
    throw inputError('invalid', `steps, mark ${odd + 1}`, rows[odd]!.join(':').slice(0, 40), 'minute:volts');
  return stepsFrom(`time_min\tvoltage_V\n${rows.map((cells) => cells.join('\t')).join('\n')}`, 'steps');
}

export function stepsFrom(text: string, name: string): WalkStep[] {
  const { head, rows, separator } = tableLines(text);
  if (!head)
    throw inputError(
      'missing',
      'steps',
      `${name} is empty`,
      'a line with time_min and voltage_V, and one for each step',
    );
  const columns = head.cells;
  const time = columns.indexOf('time_min');
  const voltage = columns.indexOf('voltage_V');
  if (time < 0 || voltage < 0) {
    throw inputError(
      'missing',
      'column',
      `${name}, line ${head.number}: ${columns.join(', ').slice(0, 80)}`,
      'columns time_min and voltage_V',
    );
  }
  const faults: Fault[] = [];
  const steps: WalkStep[] = [];
  for (const { cells, number } of rows) {
    if (separator === ',' && cells.length > columns.length) {
      faults.push({
        kind: 'invalid',
        where: `${name}, line ${number}`,
        found: `${cells.length} cells`,
        expected: `${columns.length} as in the heading (decimal commas need semicolons between cells)`,
      });
      continue;
    }
    const time_min = cellNumber(cells[time], separator);
    const voltage_V = cellNumber(cells[voltage], separator);
    if (Number.isNaN(time_min) || time_min < 0) {
      faults.push({
        kind: 'invalid',
        where: `${name}, line ${number}, time_min`,
        found: cells[time] ?? '',
        expected: 'minutes of run time, 0 or more',
      });
    } else if (Number.isNaN(voltage_V) || Math.abs(voltage_V) > VOLTAGE_MAX) {
      faults.push({
        kind: Number.isNaN(voltage_V) ? 'invalid' : 'out of range',
        where: `${name}, line ${number}, voltage_V`,
        found: cells[voltage] ?? '',
        expected: `volts, at most ${VOLTAGE_MAX} either way`,
      });
    } else steps.push({ time_s: time_min * 60, voltage_V: Math.abs(voltage_V) });
  }
  if (faults.length > 0) throw new InputError(faults.slice(0, 8));
  if (steps.length === 0)
    throw inputError('missing', 'steps', name, 'one line for each step below the heading');
  return steps;
}
