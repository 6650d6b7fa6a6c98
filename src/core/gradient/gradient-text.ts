/** The gradient plan as lines of text and as CSV. Middle values; the ranges are in the JSON. */
import type { Band, GradientPlan } from './gradient-plan.ts';
import { chanceWords, minuteWords, percentWords } from './moment.ts';

/** Indented lines, section by section, for the end of a printed plan. */
export function gradientText(plan: GradientPlan): string[] {
  const { elution, wash, ramp, risks, walk_at } = plan;
  const span = (part: { start_min: number; end_min: number }) =>
    `${minuteWords(part.start_min)} to ${minuteWords(part.end_min)}`;
  const lines = [
    'Gradient at the tip',
    `  elution ${span(elution)} (${percentWords(elution.start_organic_percent)} to ${percentWords(elution.end_organic_percent)} organic; ${elution.rule})`,
    wash === undefined ? '  no wash found' : `  wash ${span(wash)}`,
    ...plan.sentences.map((sentence) => `  - ${sentence}`),
  ];
  if (ramp.steps.length > 0) {
    lines.push('', 'Supply by hand', '     from min   supply V   tip V   holds            why');
    for (const step of ramp.steps)
      lines.push(
        `  ${step.time_min.toFixed(1).padStart(11)} ${String(step.supply_V).padStart(10)} ${(step.tip_V === null ? '–' : String(Math.round(step.tip_V))).padStart(7)}   ${chanceWords(step.probability).padEnd(12)}  ${step.raises ? 'RAISE, ' : ''}${step.reason}`,
      );
  }
  lines.push('', `Minutes at risk at ${Math.round(plan.judged.supply_V)} V (${plan.judged.which})`);
  lines.push(...(risks.length === 0 ? ['  none found'] : risks.map((risk) => `  - ${risk.sentence}`)));
  lines.push('', 'Walk the voltage, isocratic, at');
  for (const point of walk_at)
    lines.push(
      `  - ${percentWords(point.organic_percent)} organic (${percentWords(point.percent_B)} B): ${Math.round(point.from_V)} to ${Math.round(point.to_V)} V by ${point.step_V} V; ${point.why}`,
    );
  return lines;
}

/** Every moment of the run as CSV, bands as low, middle, high. */
export function gradientCsv(plan: GradientPlan): string {
  const bands = {
    onset_V: plan.onset_V,
    steady_from_V: plan.steady_from_V,
    tilt_from_V: plan.tilt_from_V,
    several_from_V: plan.several_from_V,
    supply_from_V: plan.supply_from_V,
    supply_to_V: plan.supply_to_V,
    current_nA: plan.current_nA,
    minimum_flow_nL_min: plan.minimum_flow_nL_min,
    ohmic_drop_V: plan.ohmic_drop_V,
    ohmic_share: plan.ohmic_share,
  } satisfies Record<string, Band>;
  const names = Object.keys(bands) as (keyof typeof bands)[];
  const head = [
    'time_min',
    'organic_percent',
    'part',
    ...names.flatMap((name) => ['low', 'middle', 'high'].map((which) => `${name}_${which}`)),
    'below_minimum_flow_probability',
    'best_alone_supply_V',
    'best_alone_probability',
    'ceiling_V',
    'steady_probability',
  ];
  const rows = plan.times_min.map((time, k) =>
    [
      time.toFixed(3),
      plan.organic_percent[k]!.toFixed(2),
      plan.part[k]!,
      ...names.flatMap((name) => [bands[name].low[k]!, bands[name].middle[k]!, bands[name].high[k]!]),
      plan.below_minimum_flow_probability[k]!.toFixed(3),
      plan.best_alone.supply_V[k] ?? '',
      plan.best_alone.probability[k]!.toFixed(3),
      Math.round(plan.ceiling_V[k]!),
      plan.judged.states['steady cone-jet'][k]!.toFixed(3),
    ].join(','),
  );
  return `${[head.join(','), ...rows].join('\n')}\n`;
}
