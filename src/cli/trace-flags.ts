/** How a trace file is to be read: the same flags wherever a command takes one. */
import type { Command } from 'commander';
import type { ReadTraceTask } from '../app/index.ts';
import { oneOf, positive } from './flag-values.ts';

export interface ImportFlags {
  column?: string;
  timeColumn?: string;
  voltageColumn?: string;
  pressureColumn?: string;
  unit?: string;
  timeUnit?: string;
  voltageUnit?: string;
  pressureUnit?: string;
  rate?: string;
  delimiter?: string;
  decimal?: string;
  fullScale_nA?: string;
  step?: string;
  resistor_MOhm?: string;
}

export function withImport(command: Command): Command {
  return command
    .option('--column <name>', 'column of the current, by its heading or number; the channel of a WAV file')
    .option('--time-column <name>', 'column of the time')
    .option('--voltage-column <name>', 'column of the voltage')
    .option('--pressure-column <name>', 'column of the pressure')
    .option('--unit <unit>', 'unit of the current: A, mA, uA, nA, pA')
    .option('--time-unit <unit>', 'unit of the time: s, ms, us, min, h')
    .option('--voltage-unit <unit>', 'unit of the voltage: V, kV, mV')
    .option('--pressure-unit <unit>', 'unit of the pressure: Pa, mbar, bar, psi')
    .option('--rate <number>', 'samples per second')
    .option('--delimiter <name>', 'what parts the cells: comma, semicolon, tab or space')
    .option('--decimal <name>', 'decimal sign: point or comma')
    .option('--full-scale_nA <number>', 'WAV: the current at full scale')
    .option('--step <number>', 'raw samples without a scale: what one stored step is worth in its unit')
    .option(
      '--resistor_MOhm <number>',
      'resistor the voltage was measured across, or in series with the meter',
    );
}

export function importTold(flags: ImportFlags): ReadTraceTask {
  return {
    column: flags.column,
    time_column: flags.timeColumn,
    voltage_column: flags.voltageColumn,
    pressure_column: flags.pressureColumn,
    unit: flags.unit,
    time_unit: flags.timeUnit,
    voltage_unit: flags.voltageUnit,
    pressure_unit: flags.pressureUnit,
    rate_Hz: positive(flags.rate, '--rate', 'samples per second'),
    delimiter: oneOf(flags.delimiter, '--delimiter', ['comma', 'semicolon', 'tab', 'space']),
    decimal: oneOf(flags.decimal, '--decimal', ['comma', 'point']),
    full_scale_nA: positive(flags.fullScale_nA, '--full-scale_nA', 'nA'),
    resistor_MOhm: positive(flags.resistor_MOhm, '--resistor_MOhm', 'MOhm'),
    raw_step: positive(flags.step, '--step', 'the unit of the channel'),
  };
}
