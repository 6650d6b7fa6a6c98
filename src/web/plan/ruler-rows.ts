/** The rows of the window ruler: onset, window, discharge limit by polarity, advised voltage, the tip at a stated supply. */
import type { Estimate } from '../../core/estimate.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import { csvCell } from '../save.ts';
import { figure, rangeText, withUnit } from '../words.ts';

export interface RulerRow {
  key: 'onset' | 'window' | 'discharge' | 'advised' | 'tip';
  label: string;
  /** Drawn as a mark with its range; absent: a stretch, or words alone. */
  estimate?: Estimate;
}

/** `pending`: what the advice still waits for. A first estimate gives onset and edges; its best voltage is still to move. */
export function rulerRows(
  plan: Plan,
  setup: Setup,
  isNarrow: boolean,
  pending: string | undefined,
): readonly RulerRow[] {
  const volts = (e: Estimate) => `${withUnit(figure(e.value), 'V')} (${rangeText(e, 'V')})`;
  const { discharge_V } = plan.window;
  const none = plan.advice_withheld ?? undefined;
  const rows: RulerRow[] = [
    { key: 'onset', label: `onset ${volts(plan.onset_V)}`, estimate: plan.onset_V },
    {
      key: 'window',
      label: `window ${figure(plan.window_low_V.value)} to ${withUnit(figure(plan.window_high_V.value), 'V')}, ${firstWord(plan.window_high_V.basis)}`,
    },
    discharge_V === null
      ? {
          key: 'discharge',
          label: `${isNarrow ? 'no discharge expected' : 'discharge limit'}, ${setup.polarity}${isNarrow ? '' : ': none expected at these voltages'}`,
        }
      : {
          key: 'discharge',
          label: `discharge${isNarrow ? '' : ' limit'}, ${setup.polarity}, ${volts(discharge_V)}`,
          estimate: discharge_V,
        },
  ];
  if (pending !== undefined) rows.push({ key: 'advised', label: `advised: ${pending}` });
  else if (none !== undefined) rows.push({ key: 'advised', label: 'none advised' });
  else
    rows.push({
      key: 'advised',
      label: `${isNarrow ? 'advised' : 'advised at the tip'} ${volts(plan.advised_V)}`,
      estimate: plan.advised_V,
    });
  if (setup.voltage.supply_V !== undefined && plan.tip_V)
    rows.push({
      key: 'tip',
      label: `${isNarrow ? 'tip now' : 'tip at the stated supply'} ${volts(plan.tip_V)}`,
      estimate: plan.tip_V,
    });
  return rows;
}

export function rulerCsv(plan: Plan, setup: Setup): string {
  const marks: [string, Estimate | null | undefined][] = [
    ['onset', plan.onset_V],
    ['window begins', plan.window_low_V],
    ['window ends', plan.window_high_V],
    [`discharge limit, ${setup.polarity} polarity`, plan.window.discharge_V],
    ['advised at the tip', plan.advice_withheld === null ? plan.advised_V : null],
    ['tip at the stated supply', setup.voltage.supply_V === undefined ? undefined : plan.tip_V],
  ];
  const lines = marks.flatMap(([mark, estimate]) => {
    if (estimate === undefined) return [];
    const cells =
      estimate === null
        ? [mark, '', '', '', 'none']
        : [mark, estimate.value, estimate.low, estimate.high, estimate.basis];
    return [cells.map((cell) => csvCell(cell)).join(',')];
  });
  return `${['mark,tip_V,low_V,high_V,basis', ...lines].join('\n')}\n`;
}

/** 'judgement: several jets from …' → 'judgement'. */
function firstWord(basis: string): string {
  return basis.split(':')[0] ?? basis;
}
