/** The plan as text for a terminal: value, range, and a mark where a model is outside its validity. */
import type { Estimate } from '../estimate.ts';
import type { Setup } from '../setup.ts';
import { figure } from './figure.ts';
import type { Plan } from './plan.ts';
import { HIGH_SUPPLY_V } from './words.ts';

export function planText(setup: Setup, plan: Plan): string {
  const lines: string[] = [
    `Plan: ${setup.name ?? 'unnamed set-up'} (${setup.polarity})`,
    '',
    plan.electric_state.sentence,
    '',
  ];
  const row = (label: string, unit: string, e: Estimate) =>
    lines.push(`  ${label.padEnd(24)} ${withRange(e, unit)}`);
  lines.push('Liquid');
  row('surface tension', 'mN/m', plan.liquid.surface_tension_mN_m);
  row('conductivity', 'S/m', plan.liquid.conductivity_S_m);
  row('viscosity', 'mPa s', plan.liquid.viscosity_mPa_s);
  row('density', 'kg/m³', plan.liquid.density_kg_m3);
  row('permittivity', '', plan.liquid.permittivity_relative);
  row('vapour pressure', 'kPa', plan.liquid.vapour_pressure_kPa);
  if (plan.liquid.pH) row('pH', '', plan.liquid.pH);
  lines.push(
    '',
    `Voltage (tip against inlet; contact line radius ${figure(plan.contact_line_radius_um)} µm)`,
  );
  row('onset', 'V', plan.onset_V);
  row('steady from', 'V', plan.window_low_V);
  row('several jets from', 'V', plan.window_high_V);
  row('advised', 'V', plan.advised_V);
  if (plan.advised_supply_V.value > HIGH_SUPPLY_V)
    lines.push(`  ${'supply for advised'.padEnd(24)} none: more than ${HIGH_SUPPLY_V} V would be needed`);
  else row('supply for advised', 'V', plan.advised_supply_V);
  if (plan.tip_V && setup.voltage.supply_V !== undefined) row('tip now', 'V', plan.tip_V);
  row('ohmic drop', 'V', plan.ohmic_drop_V);
  row('column resistance', 'MΩ', plan.ohmic_resistance_Mohm);
  lines.push('', 'Spray');
  row('flow', 'nL/min', plan.flow_nL_min);
  row('minimum flow', 'nL/min', plan.minimum_flow_nL_min);
  row('current', 'nA', plan.current_nA);
  row('jet diameter', 'nm', plan.jet_diameter_nm);
  row('primary droplet', 'nm', plan.droplet_diameter_nm);
  row('pressure, emitter alone', 'bar', plan.feed_pressure_bar);
  if (plan.along_gradient.length > 0) {
    lines.push('', 'Along the gradient (middle values; window is judgement)');
    lines.push('    min  organic %   mN/m       S/m   onset V   window V     nA   min flow nL/min   drop V');
    for (const g of plan.along_gradient)
      lines.push(
        `  ${pad(g.time_min, 5)} ${pad(g.organic_percent, 10)} ${pad(g.surface_tension_mN_m, 6)} ${pad(g.conductivity_S_m, 9)} ${pad(g.onset_V, 9)}  ${`${figure(g.window_low_V)}–${figure(g.window_high_V)}`.padStart(9)} ${pad(g.current_nA, 6)} ${pad(g.minimum_flow_nL_min, 17)} ${pad(g.ohmic_drop_V, 8)}`,
      );
  }
  lines.push('', `Limited most by: ${plan.limited_by}`);
  section(lines, 'Warnings', plan.warnings);
  section(lines, 'Cautions', plan.cautions);
  section(lines, 'Not known', plan.not_known);
  lines.push(
    '',
    '* outside the stated validity of its model: the range is doubled. Sources: --json, under each number.',
  );
  return lines.join('\n');
}

function section(lines: string[], title: string, entries: readonly string[]): void {
  if (entries.length === 0) return;
  lines.push('', title, ...entries.map((entry) => `  - ${entry}`));
}

/** `722 V (469 to 975)`, with a star outside validity. */
export function withRange(e: Estimate, unit: string): string {
  const range = e.low === e.high ? '' : ` (${figure(e.low)} to ${figure(e.high)})`;
  return `${figure(e.value)}${unit === '' ? '' : ` ${unit}`}${range}${e.valid ? '' : ' *'}`;
}

function pad(value: number, width: number): string {
  return figure(value).padStart(width);
}
