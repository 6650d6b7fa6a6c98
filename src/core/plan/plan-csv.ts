/** The plan's numbers as CSV: one row for each number with its range; and the chances over voltage as a table. */

import type { Plan } from './plan.ts';
import { citedNumbers } from './plan-sources.ts';

export function planCsv(plan: Plan): string {
  const rows = citedNumbers(plan)
    .filter(({ number }) => !number.startsWith('calibration'))
    .map(({ number, value, low, high, basis, valid, note, sources }) =>
      [number, value, low, high, quoted(basis), valid, quoted(note ?? ''), quoted(sources.join(' | '))].join(
        ',',
      ),
    );
  return `${['quantity,value,low,high,basis,valid,note,sources', ...rows].join('\n')}\n`;
}

export function windowCsv({ window }: Plan): string {
  const keys = [
    'voltage_V',
    'below_onset',
    'pulsating',
    'steady',
    'tilted',
    'several_jets',
    'discharge',
  ] as const;
  const rows = window.voltage_V.map((_, k) =>
    keys.map((key) => Number(window[key][k]!.toPrecision(6))).join(','),
  );
  return `${[keys.join(','), ...rows].join('\n')}\n`;
}

function quoted(text: string): string {
  return `"${text.replaceAll('"', '""')}"`;
}
