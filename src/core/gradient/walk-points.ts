/**
 * The three compositions at which to walk the voltage: start and end of the elution, where the window stands furthest
 * apart, and between them (inner half of its composition) the one whose best voltage is least certain; where none stands
 * out, the middle. The walk is isocratic, after a wait for the composition to reach the tip. Steps of 50 V up to a contact
 * radius of 25 µm, else 100 V (common practice, no source). The range starts below the 10th percentile of the onset and ends
 * at the 90th of the upper edge, or at the ceiling.
 */
import { NA } from '../units.ts';
import type { TipDelay, WalkPoint } from './gradient-plan.ts';
import { type Moment, percentWords } from './moment.ts';
import { percentile, spreadOf } from './percentiles.ts';

const SMALL_RADIUS_UM = 25;
/** A moment stands out from here on, in probability. */
const STANDS_OUT = 0.02;

export function walkPoints(
  moments: readonly Moment[],
  bestAlone: readonly number[],
  percentB: (organic_percent: number) => number,
  delay: TipDelay | null,
  contactRadius_um: number,
): WalkPoint[] {
  const elution = moments.map((moment, k) => ({ moment, best: bestAlone[k]! })).filter(inElution);
  const first = elution[0]!;
  const last = elution.at(-1)!;
  const span = last.moment.organic_percent - first.moment.organic_percent;
  const share = (m: Moment) => (span === 0 ? 0.5 : (m.organic_percent - first.moment.organic_percent) / span);
  const inner = elution.filter(({ moment }) => share(moment) >= 0.25 && share(moment) <= 0.75);
  const candidates = inner.length > 0 ? inner : [elution[Math.floor(elution.length / 2)]!];
  const middle = candidates.reduce((a, b) =>
    Math.abs(share(b.moment) - 0.5) < Math.abs(share(a.moment) - 0.5) ? b : a,
  );
  const least = candidates.reduce((a, b) => (b.best < a.best ? b : a));
  const between = least.best < middle.best - STANDS_OUT ? least : middle;
  const point = (moment: Moment, why: string): WalkPoint => {
    const step_V = contactRadius_um <= SMALL_RADIUS_UM ? 50 : 100;
    const { edges } = moment;
    const to = Math.min(moment.ceiling_V, percentile(edges.tilt, 0.9));
    const current = spreadOf(edges.draws.current_A.map((amps) => amps / NA));
    const to_V = Math.max(0, Math.floor(to / 10) * 10);
    return {
      organic_percent: moment.organic_percent,
      percent_B: percentB(moment.organic_percent),
      time_min: moment.time_min,
      wait_min: delay === null ? null : delay.delay_high_min + 3 * delay.smearing_high_min,
      from_V: Math.max(0, Math.min(to_V, Math.floor(percentile(edges.onset, 0.1) / step_V) * step_V)),
      to_V,
      step_V,
      expected_current_nA: current,
      why,
    };
  };
  return [
    point(
      first.moment,
      'start of the elution: highest surface tension, the voltage most likely to be too low',
    ),
    point(
      between.moment,
      between === middle
        ? 'between: shows whether the window moves evenly from start to end'
        : `between: here the best voltage is least certain (${percentWords(between.moment.organic_percent)} organic)`,
    ),
    point(
      last.moment,
      'end of the elution: lowest surface tension and conductivity, the voltage most likely to be too high',
    ),
  ];
}

function inElution({ moment }: { moment: Moment }): boolean {
  return moment.part === 'elution';
}
