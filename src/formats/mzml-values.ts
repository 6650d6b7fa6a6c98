/** Values of an MS1 spectrum of mzML: its time, total ion current, base peak and injection time, and what is told where they cannot be read. */
import { type Param, SECONDS_PER } from './mzml-params.ts';
import { decimal } from './numerals.ts';
import type { WarningTally } from './warning-tally.ts';

/** Scan start time [s]; NaN where it is not told, or not in a unit of time. */
export function secondsOf(param: Param | undefined, tally: WarningTally): number {
  if (param === undefined) {
    tally.add('time_missing');
    return Number.NaN;
  }
  const value = decimal(param.value);
  const seconds = SECONDS_PER[param.unit];
  if (Number.isNaN(value)) tally.add('time_not_number');
  else if (seconds === undefined) tally.add('time_unit');
  return seconds === undefined ? Number.NaN : value * seconds;
}

export function ticOf(param: Param | undefined, tally: WarningTally): number {
  if (param === undefined) {
    tally.add('tic_missing');
    return Number.NaN;
  }
  const value = decimal(param.value);
  if (Number.isNaN(value)) tally.add('tic_not_number');
  return value;
}

export function injectionOf(param: Param | undefined, tally: WarningTally): number {
  if (param === undefined) {
    tally.add('injection_missing');
    return Number.NaN;
  }
  // The vocabulary allows milliseconds only, so a missing unit means them.
  const seconds = param.unit === '' ? 1e-3 : SECONDS_PER[param.unit];
  const value =
    seconds === 1e-3 ? decimal(param.value) : decimal(param.value) * (seconds ?? Number.NaN) * 1000;
  if (Number.isNaN(value)) tally.add('injection_not_number');
  return value;
}

export function basePeakOf(param: Param | undefined, tally: WarningTally): number {
  if (param === undefined) return Number.NaN;
  const value = decimal(param.value);
  if (Number.isNaN(value)) tally.add('base_peak_not_number');
  return value;
}
