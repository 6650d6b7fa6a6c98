/**
 * Minutes at risk at one supply voltage: dripping or pulsation, tilt or several jets, discharge, too little flow; each a
 * run of moments of one part of the run, with its highest probability and why. Listed from 30 % on (discharge 10 %), both
 * judgement. Too little flow is a warning only above 90 %; between 10 and 90 % it is not decidable from the model: the
 * spray current, read at this composition, tells the conductivity.
 */
import type { GradientRisk } from './gradient-plan.ts';
import { chanceWords, type Moment, minuteWords, percentWords } from './moment.ts';
import { percentile } from './percentiles.ts';

const LISTED_FROM = 0.3;
const DISCHARGE_LISTED_FROM = 0.1;
export const FLOW_WARNING_ABOVE = 0.9;
const FLOW_DECIDED_UNDER = 0.1;

interface Judged {
  kind: GradientRisk['kind'];
  verdict: GradientRisk['verdict'];
  probability: number;
}

export function gradientRisks(
  moments: readonly Moment[],
  supply: number,
  flow_nL_min: number,
): GradientRisk[] {
  const judged = moments.map((moment) => judgedAt(moment, supply));
  const risks: GradientRisk[] = [];
  for (const kind of [
    'drips or pulsates',
    'tilt or several jets',
    'discharge',
    'below minimum flow',
  ] as const)
    for (const verdict of ['warning', 'not decidable'] as const) {
      let from = 0;
      while (from < moments.length) {
        const at = (k: number) => judged[k]?.find((j) => j.kind === kind && j.verdict === verdict);
        if (at(from) === undefined) {
          from++;
          continue;
        }
        let to = from;
        while (at(to + 1) !== undefined && moments[to + 1]!.part === moments[from]!.part) to++;
        let worst = from;
        for (let k = from; k <= to; k++) if (at(k)!.probability > at(worst)!.probability) worst = k;
        risks.push(
          riskOf(kind, verdict, moments, from, to, worst, at(worst)!.probability, supply, flow_nL_min),
        );
        from = to + 1;
      }
    }
  return risks.sort((a, b) => a.start_min - b.start_min);
}

function judgedAt({ edges }: Moment, supply: number): Judged[] {
  let low = 0;
  let high = 0;
  let discharge = 0;
  let starved = 0;
  for (let i = 0; i < edges.count; i++) {
    if (supply >= edges.discharge[i]!) discharge++;
    if (supply < edges.steady[i]!) low++;
    else if (supply >= Math.min(edges.tilt[i]!, edges.several[i]!)) high++;
    if (edges.flows[i] === 0) starved++;
  }
  const share = (n: number) => n / edges.count;
  const found: Judged[] = [];
  const warn = (kind: GradientRisk['kind'], probability: number, from: number) => {
    if (probability >= from) found.push({ kind, verdict: 'warning', probability });
  };
  warn('drips or pulsates', share(low), LISTED_FROM);
  warn('tilt or several jets', share(high), LISTED_FROM);
  warn('discharge', share(discharge), DISCHARGE_LISTED_FROM);
  if (share(starved) > FLOW_WARNING_ABOVE)
    found.push({ kind: 'below minimum flow', verdict: 'warning', probability: share(starved) });
  else if (share(starved) >= FLOW_DECIDED_UNDER)
    found.push({ kind: 'below minimum flow', verdict: 'not decidable', probability: share(starved) });
  return found;
}

function riskOf(
  kind: GradientRisk['kind'],
  verdict: GradientRisk['verdict'],
  moments: readonly Moment[],
  from: number,
  to: number,
  worst: number,
  probability: number,
  supply: number,
  flow_nL_min: number,
): GradientRisk {
  const [first, last, peak] = [moments[from]!, moments[to]!, moments[worst]!];
  const [span, organic] =
    from === to
      ? [`At ${minuteWords(first.time_min)}`, percentWords(first.organic_percent)]
      : [
          `${minuteWords(first.time_min)} to ${minuteWords(last.time_min)}`,
          `${percentWords(first.organic_percent)} to ${percentWords(last.organic_percent)}`,
        ];
  return {
    kind,
    verdict,
    start_min: first.time_min,
    end_min: last.time_min,
    start_organic_percent: first.organic_percent,
    end_organic_percent: last.organic_percent,
    highest_probability: probability,
    part: first.part,
    sentence: `${span} (${first.part}, ${organic} organic): ${why(kind, verdict, peak, probability, supply, flow_nL_min)}`,
  };
}

function why(
  kind: GradientRisk['kind'],
  verdict: GradientRisk['verdict'],
  { edges }: Moment,
  probability: number,
  supply: number,
  flow_nL_min: number,
): string {
  const volts = (values: ArrayLike<number>) => `${Math.round(percentile(values, 0.5))} V`;
  const drop = percentile(edges.drop, 0.5);
  const lost = drop > 0.1 * Math.max(1, supply) ? `, ${Math.round(drop)} V of it lost in the liquid` : '';
  const chance = `up to ${chanceWords(probability)}`;
  if (kind === 'drips or pulsates')
    return `drips or pulsates, ${chance}: steady needs about ${volts(edges.steady)} at the supply${lost}, it stands at ${supply} V.`;
  if (kind === 'tilt or several jets')
    return `tilt or several jets, ${chance}: expected from about ${volts(edges.tilt)} at the supply, it stands at ${supply} V.`;
  if (kind === 'discharge')
    return `corona or a spark, ${chance}: ${supply} V at the supply is too near the discharge limit; lower it, and stop at noise, light or smell of ozone.`;
  const least = percentile(edges.draws.minimum_flow_m3_s, 0.5) * FLOW_NL_MIN_PER_SI;
  const flows = `${Number(flow_nL_min.toPrecision(3))} nL/min against a minimum of about ${Number(least.toPrecision(2))} nL/min`;
  return verdict === 'warning'
    ? `below the minimum flow (${chanceWords(probability)}): ${flows}; expect pulsation at any voltage.`
    : `whether the flow is enough is not decidable (${flows}): read the spray current at this composition.`;
}
const FLOW_NL_MIN_PER_SI = 60e12;
