/** The plan as text for a terminal: value, range, and a mark where a model is outside its validity. */
import type { Estimate } from '../estimate.ts';
import { gradientText } from '../gradient/index.ts';
import type { Setup } from '../setup.ts';
import { figure } from './figure.ts';
import type { Plan } from './plan.ts';

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
  row('ionic strength', 'mmol/L', plan.liquid.ionic_strength_mol_m3);
  if (plan.liquid.pH) row('pH', '', plan.liquid.pH);
  lines.push(
    '',
    `Voltage (tip against inlet; contact line radius ${figure(plan.contact_line_radius_um)} µm)`,
  );
  row('onset', 'V', plan.onset_V);
  row('steady from', 'V', plan.window_low_V);
  row('tilt from', 'V', plan.window.tilt_V);
  row('several jets from', 'V', plan.window_high_V);
  row('stands down to', 'V', plan.window.returns_down_to_V);
  if (plan.window.discharge_V) row('discharge from', 'V', plan.window.discharge_V);
  else lines.push(`  ${'discharge from'.padEnd(24)} none expected`);
  row(plan.advice_withheld === null ? 'advised' : 'most likely steady', 'V', plan.advised_V);
  const when = plan.calibration ? 'after what was seen' : 'before this emitter was walked';
  lines.push(`  ${''.padEnd(24)} ${percent(plan.window.best_probability)} steady there, ${when}`);
  if (plan.advice_withheld !== null)
    lines.push(`  ${'supply for advised'.padEnd(24)} none: ${plan.advice_withheld}`);
  else row('supply for advised', 'V', plan.advised_supply_V);
  if (plan.tip_V && setup.voltage.supply_V !== undefined) row('tip now', 'V', plan.tip_V);
  row('ohmic drop', 'V', plan.ohmic_drop_V);
  row('column resistance', 'MΩ', plan.ohmic_resistance_Mohm);
  if (plan.at_supply)
    lines.push(
      `  at ${figure(plan.at_supply.supply_V)} V supply: ${Object.entries(plan.at_supply.chances)
        .filter(([, share]) => share >= SHARE_SHOWN)
        .map(([state, share]) => `${state} ${percent(share)}`)
        .join(', ')}`,
    );
  lines.push('', 'Meniscus', `  ${meniscusWords(plan)}`);
  if (plan.held_pressure && plan.meniscus.kind !== 'no equilibrium')
    lines.push(`  ${plan.held_pressure.sentence}`);
  lines.push('', 'Spray');
  row('flow', 'nL/min', plan.flow_nL_min);
  row('minimum flow', 'nL/min', plan.minimum_flow_nL_min);
  row('current', 'nA', plan.current_nA);
  row('jet diameter', 'nm', plan.jet_diameter_nm);
  row('primary droplet', 'nm', plan.droplet_diameter_nm);
  row('pressure, emitter alone', 'bar', plan.feed_pressure_bar);
  if (plan.along_gradient.length > 0) {
    lines.push(
      '',
      'Along the gradient, lines of the table as at the tip (middle values; window is judgement)',
    );
    lines.push(
      '    min  organic %   mN/m       S/m   onset V   window V     nA   min flow nL/min   drop V   tip V',
    );
    for (const g of plan.along_gradient)
      lines.push(
        `  ${pad(g.time_min, 5)} ${pad(g.organic_percent, 10)} ${pad(g.surface_tension_mN_m, 6)} ${pad(g.conductivity_S_m, 9)} ${pad(g.onset_V, 9)}  ${`${figure(g.window_low_V)}–${figure(g.window_high_V)}`.padStart(9)} ${pad(g.current_nA, 6)} ${pad(g.minimum_flow_nL_min, 17)} ${pad(g.ohmic_drop_V, 8)} ${g.tip_V === null ? '      –' : pad(g.tip_V, 7)}`,
      );
  }
  if (plan.gradient) lines.push('', ...gradientText(plan.gradient));
  section(
    lines,
    'What would narrow the answers most',
    plan.sensitivities.flatMap(({ limited_by }) => limited_by.slice(0, 1).map(({ sentence }) => sentence)),
  );
  if (plan.calibration)
    section(
      lines,
      `What ${plan.calibration.observations_used} observation(s) changed`,
      plan.calibration.sentences,
    );
  lines.push('', `Limited most by: ${plan.limited_by}`);
  section(lines, 'Warnings', plan.warnings);
  section(lines, 'Cautions', plan.cautions);
  section(lines, 'Not known', plan.not_known);
  lines.push('', 'To start', ...steps(plan.sequence.start), '', 'To park', ...steps(plan.sequence.park));
  lines.push(
    '',
    '* outside the stated validity of its model: the range is doubled or inherits it. Sources: --sources.',
  );
  return lines.join('\n');
}

/** Smaller shares are left out of a line of chances. */
const SHARE_SHOWN = 0.02;

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

function meniscusWords({ meniscus: m }: Plan): string {
  if (m.kind !== 'solved')
    return m.kind === 'no equilibrium'
      ? `${m.kind}: ${m.reason}`
      : `${m.kind}, which says nothing of the emitter: ${m.reason}; the closed formula stands in with ${figure(m.closed_form_V)} V`;
  return `on the ${m.contact}: turns at ${figure(m.onset_V)} V with its apex ${figure(m.onset_apex_height_um)} µm high, half-angle ${Math.round(m.half_angle_deg)}°; the closed formula says ${figure(m.closed_form_V)} V`;
}

function steps(sequence: Plan['sequence']['start']): string[] {
  return sequence.flatMap(({ title, action, expect, caution, asks_for_yes }, k) => [
    `  ${k + 1}. ${title}${asks_for_yes ? ' (asks for your yes)' : ''}: ${action}`,
    ...(expect === undefined ? [] : [`     Expect: ${expect}`]),
    `     ! ${caution}`,
  ]);
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
