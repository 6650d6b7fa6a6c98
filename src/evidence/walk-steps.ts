/**
 * The steps of a voltage walk: a small table beside the run with the columns time_min and voltage_V, comma, semicolon
 * or tab between them, other columns passed over, lines that begin with # too. Decimal commas are refused where the comma
 * also separates; with semicolons or tabs they are read.
 */
import { type Fault, InputError, inputError } from '../core/errors.ts';
import type { WalkStep } from './walk.ts';

/** Beyond any supply this program plans for [V]. */
const VOLTAGE_MAX = 5000;

export function stepsFrom(text: string, name: string): WalkStep[] {
  const lines = text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({ line: line.trim(), number: i + 1 }))
    .filter(({ line }) => line !== '' && !line.startsWith('#'));
  const head = lines[0];
  if (!head)
    throw inputError(
      'missing',
      'steps',
      `${name} is empty`,
      'a line with time_min and voltage_V, and one for each step',
    );
  const separator = head.line.includes(';') ? ';' : head.line.includes('\t') ? '\t' : ',';
  const columns = head.line.split(separator).map((word) => word.trim().replace(/^"|"$/g, ''));
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
  for (const { line, number } of lines.slice(1)) {
    const cells = line.split(separator).map((cell) => cell.trim().replace(/^"|"$/g, ''));
    if (separator === ',' && cells.length > columns.length) {
      faults.push({
        kind: 'invalid',
        where: `${name}, line ${number}`,
        found: `${cells.length} cells`,
        expected: `${columns.length} as in the heading (decimal commas need semicolons between cells)`,
      });
      continue;
    }
    const time_min = numeral(cells[time], separator);
    const voltage_V = numeral(cells[voltage], separator);
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

function numeral(cell: string | undefined, separator: string): number {
  if (cell === undefined || cell === '') return Number.NaN;
  return Number(separator === ',' ? cell : cell.replace(',', '.'));
}
