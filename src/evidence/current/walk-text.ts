/** Walks as text, as CSV, and as a document for a plan's calibration. */
import { frequencyText } from '../../core/signal/index.ts';
import type { Observation } from '../../core/window/index.ts';
import type { CurrentReading } from './current-reading.ts';
import type { FlowWalk } from './flow-walk.ts';
import { currentText, regimeLabel, regimeName, shareText } from './labels.ts';
import type { VoltageWalk } from './voltage-walk.ts';

export function voltageWalkText(walk: VoltageWalk): string {
  const at =
    walk.voltage_at === 'not stated' ? 'where it was measured is not stated' : `at the ${walk.voltage_at}`;
  const lines = [`Voltage walk (${walk.from}; voltage ${at})`];
  for (const sweep of walk.sweeps) {
    lines.push(sweep.direction === 'up' ? ' going up' : ' going down');
    for (const s of sweep.steps)
      lines.push(
        `  ${s.voltage_V} V: ${regimeName(s.regime)} (${Math.round(100 * s.probabilities[s.regime])} %), ${currentText(s.level_nA.value)} (${currentText(s.level_nA.low)} to ${currentText(s.level_nA.high)})${s.level_nA.value < 1 ? '' : `, scatter ${shareText(s.scatter)}`}${s.frequency_Hz === null ? '' : `, ${frequencyText(s.frequency_Hz)}`}`,
      );
  }
  lines.push(...walk.sentences, ...walk.warnings.map((w) => `Warning: ${w}`));
  lines.push(
    'Voltages are advice to compare, never to apply unseen: a person sets each one, by the rules of the lab.',
  );
  return `${lines.join('\n')}\n`;
}

export function voltageWalkCsv(walk: VoltageWalk): string {
  const rows = walk.sweeps.flatMap((sweep) =>
    sweep.steps.map((s) =>
      [
        sweep.direction,
        s.voltage_V,
        s.from_s.toFixed(3),
        s.to_s.toFixed(3),
        s.windows,
        s.regime,
        s.probabilities[s.regime].toFixed(3),
        s.level_nA.value.toPrecision(5),
        s.level_nA.low.toPrecision(5),
        s.level_nA.high.toPrecision(5),
        s.scatter.toPrecision(3),
        s.frequency_Hz?.toPrecision(5) ?? '',
      ].join(','),
    ),
  );
  return `${['direction,voltage_V,from_s,to_s,windows,regime,probability,level_nA,level_low_nA,level_high_nA,scatter,frequency_Hz', ...rows].join('\r\n')}\r\n`;
}

export function flowWalkText(walk: FlowWalk): string {
  const lines = ['Flow walk'];
  for (const p of walk.points)
    lines.push(
      `  ${p.flow_nL_min} nL/min: ${Number.isNaN(p.current_nA) ? 'no current' : currentText(p.current_nA)}${p.regime === null ? '' : `, ${regimeName(p.regime)}`}${p.used ? '' : ' (left out)'}`,
    );
  lines.push(...walk.sentences, ...walk.warnings.map((w) => `Warning: ${w}`));
  return `${lines.join('\n')}\n`;
}

export function flowWalkCsv(walk: FlowWalk): string {
  const rows = walk.points.map((p) => [p.flow_nL_min, p.current_nA, p.regime ?? '', p.used].join(','));
  return `${['flow_nL_min,current_nA,regime,used', ...rows].join('\r\n')}\r\n`;
}

/** The rows as a YAML document for `plan --observe`. What a trace cannot tell stands beside them as a comment. */
export function observationsYaml(
  observations: readonly Observation[],
  file: string,
  reading: CurrentReading,
): string {
  const lines = [
    `# Read from the current trace ${file.replace(/[\r\n]/g, ' ')}${reading.invented ? ' (INVENTED DATA)' : ''}. Check each row before planning with it.`,
  ];
  if (!reading.decidability.decides)
    lines.push(`# 'steady' here: ${regimeLabel('steady', reading.decidability)}.`);
  lines.push('observations:');
  for (const row of observations) {
    const parts = Object.entries(row)
      .filter(([, value]) => value !== undefined)
      .map(([key, value]) => `${key}: ${value}`);
    lines.push(`  - { ${parts.join(', ')} }`);
  }
  return `${lines.join('\n')}\n`;
}
