/** The numbers in which two plans differ, each named, with both ranges and the difference in words; and as CSV. */
import type { Estimate } from '../../core/estimate.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { csvCell } from '../save.ts';
import { figure, keyParts, rangeText, withUnit } from '../words.ts';
import { planNumbers } from './plan-numbers.ts';

export interface Difference {
  key: string;
  label: string;
  unit: string;
  /** Absent: not advised, or not known in this plan. */
  other: Estimate | undefined;
  now: Estimate | undefined;
  words: string;
  /** Differs by more than rounding. */
  differs: boolean;
}

/** Differences below this share are none. */
const SAME = 0.01;
const ADVICE = new Set(['advised_V', 'advised_supply_V']);

export function differences(other: Plan, now: Plan): Difference[] {
  const [before, after] = [numbersOf(other), numbersOf(now)];
  return [...new Map([...before, ...after]).keys()].map((key) => {
    const a = before.get(key);
    const b = after.get(key);
    const label = (b ?? a)!.label;
    return {
      key,
      label,
      unit: keyParts(key).unit,
      other: a?.estimate,
      now: b?.estimate,
      ...difference(a?.estimate, b?.estimate),
    };
  });
}

export function sideText(estimate: Estimate | undefined, unit: string, key: string): string {
  if (estimate === undefined) return ADVICE.has(key) ? 'none advised' : 'none';
  return `${withUnit(figure(estimate.value), unit)} (${rangeText(estimate, unit)})`;
}

export function differencesCsv(rows: readonly Difference[]): string {
  const side = (e: Estimate | undefined) => (e === undefined ? ['', '', ''] : [e.value, e.low, e.high]);
  const head = [
    'quantity',
    'unit',
    'put_aside',
    'put_aside_low',
    'put_aside_high',
    'on_the_page',
    'on_the_page_low',
    'on_the_page_high',
    'difference',
  ];
  const lines = rows.map((row) =>
    [row.label, row.unit, ...side(row.other), ...side(row.now), row.words]
      .map((cell) => csvCell(cell))
      .join(','),
  );
  return `${[head.join(','), ...lines].join('\n')}\n`;
}

/** Advice that is withheld is no number to compare. */
function numbersOf(plan: Plan): Map<string, { label: string; estimate: Estimate | undefined }> {
  const none = plan.advice_withheld !== null;
  return new Map(
    planNumbers(plan).map(({ key, label, estimate }) => [
      key,
      { label, estimate: none && ADVICE.has(key) ? undefined : estimate },
    ]),
  );
}

function difference(
  other: Estimate | undefined,
  now: Estimate | undefined,
): Pick<Difference, 'words' | 'differs'> {
  if (other === undefined && now === undefined) return { words: 'none', differs: false };
  if (other === undefined) return { words: 'only on the page', differs: true };
  if (now === undefined) return { words: 'only put aside', differs: true };
  const differs = Math.abs(now.value - other.value) > SAME * Math.abs(other.value);
  const within = now.value >= other.low && now.value <= other.high;
  const reach = within ? ', within the range of the other' : ', beyond the range of the other';
  if (!differs) return { words: 'none', differs };
  if (other.value === 0) return { words: `from none${reach}`, differs };
  const share = now.value / other.value;
  if (share > 2 || share < 0.5) return { words: `${figure(share, 2)} times${reach}`, differs };
  return {
    words: `${Math.round(Math.abs(share - 1) * 100)} % ${share > 1 ? 'more' : 'less'}${reach}`,
    differs,
  };
}
