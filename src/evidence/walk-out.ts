/** A voltage walk as text for a terminal and as a table for a spreadsheet. */
import type { WalkReading } from './walk.ts';
import { percentText } from './words.ts';

export function walkText(walk: WalkReading): string {
  const at =
    walk.voltage_at === 'not stated'
      ? 'voltage (where it was measured is not stated)'
      : `voltage at the ${walk.voltage_at}`;
  const lines = [`Voltage walk, ${at}`];
  for (const sweep of walk.sweeps) {
    lines.push(...sweep.sentences);
    for (const step of sweep.steps) {
      const level = step.level
        ? `level ${Number(step.level.value.toPrecision(3))} (${Number(step.level.low.toPrecision(3))} to ${Number(step.level.high.toPrecision(3))})`
        : 'level not told';
      const scatter = step.scatter
        ? `, scatter ${percentText(step.scatter.value)} (${percentText(step.scatter.low)} to ${percentText(step.scatter.high)})`
        : '';
      lines.push(`  ${step.voltage_V} V: ${step.state}, ${level}${scatter}, ${step.scans} scans`);
    }
  }
  lines.push(...walk.warnings.map((warning) => `Warning: ${warning}`));
  lines.push(
    'Voltages are advice to compare, never to apply unseen: a person sets each one, by the rules of the lab.',
  );
  return `${lines.join('\n')}\n`;
}

const HEADER =
  'direction,voltage_V,from_min,to_min,scans,state,level,level_low,level_high,scatter,scatter_low,scatter_high';

export function walkCsv(walk: WalkReading): string {
  const rows = walk.sweeps.flatMap((sweep) =>
    sweep.steps.map((step) =>
      [
        sweep.direction,
        step.voltage_V,
        (step.from_s / 60).toFixed(4),
        (step.to_s / 60).toFixed(4),
        step.scans,
        step.state,
        step.level?.value ?? '',
        step.level?.low ?? '',
        step.level?.high ?? '',
        step.scatter?.value ?? '',
        step.scatter?.low ?? '',
        step.scatter?.high ?? '',
      ].join(','),
    ),
  );
  return `${[HEADER, ...rows].join('\r\n')}\r\n`;
}
