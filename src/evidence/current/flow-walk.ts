/**
 * A flow walk: current against flow at one liquid and a voltage inside the window. ln I = ln c + b ln Q by least squares with Student's 95 % range;
 * a steady cone-jet gives b = 0.5 (0.4 to 0.55 in experiments). With b held at 0.5, I = A sqrt(Q), and I = 2.4 sqrt(γ K Q) (2.0 to 2.6)
 * gives the conductivity K = (A/2.4)²/γ. Breaks when a step was no single steady jet: only such steps are used.
 * Sources: Fernandez de la Mora & Loscertales 1994, J. Fluid Mech. 260:155; Gañán-Calvo 2004, J. Fluid Mech. 507:203 (from memory).
 */
import { inputError } from '../../core/errors.ts';
import { type Estimate, estimate } from '../../core/estimate.ts';
import { median } from '../../core/numeric/robust.ts';
import { NA, NL_MIN } from '../../core/units.ts';
import type { CurrentReading } from './current-reading.ts';
import { likeliest, type Regime } from './regimes.ts';
import { meanProbabilities, settledWindows } from './settled-windows.ts';

export interface FlowPoint {
  flow_nL_min: number;
  current_nA: number;
  /** Null where the current was typed, not read from a trace. */
  regime: Regime | null;
  used: boolean;
}

export interface FlowWalk {
  points: FlowPoint[];
  /** b with its 95 % range; null below three used points. */
  exponent: { value: number; low: number; high: number } | null;
  /** Current at 1 nL/min by the free fit [nA], with its 95 % range. */
  coefficient_nA: { value: number; low: number; high: number } | null;
  /** I/sqrt(Q) with b held at 0.5 [nA per sqrt(nL/min)]. */
  root_coefficient: { value: number; low: number; high: number } | null;
  conductivity_S_m: Estimate | null;
  sentences: string[];
  warnings: string[];
}

const EXPONENT_LOW = 0.4;
const EXPONENT_HIGH = 0.55;
const CONSENSUS = { low: 2.0, value: 2.4, high: 2.6 };
/** Student's t, two-sided 95 %, by degrees of freedom 1 to 10; beyond by 1.96 + 2.4/n (computed, to 1 %). */
const STUDENT = [12.71, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228];
const SETTLE = 0.3;
const LEAST_SPAN = 2;

export function student(freedom: number): number {
  return STUDENT[freedom - 1] ?? 1.96 + 2.4 / freedom;
}

export function readFlowWalk(
  steps: readonly { flow_nL_min: number; time_s?: number; current_nA?: number }[],
  reading: CurrentReading | undefined,
  surfaceTension_N_m?: { value: number; low: number; high: number },
): FlowWalk {
  const points = steps.map((step, i): FlowPoint => {
    if (!(step.flow_nL_min > 0))
      throw inputError('out of range', 'flow_nL_min', String(step.flow_nL_min), 'above 0');
    if (step.current_nA !== undefined)
      return {
        flow_nL_min: step.flow_nL_min,
        current_nA: step.current_nA,
        regime: null,
        used: step.current_nA > 0,
      };
    const from = step.time_s!;
    const to = steps[i + 1]?.time_s ?? reading?.end_s ?? from;
    const inside = reading ? settledWindows(reading, from, to, SETTLE) : [];
    if (inside.length === 0)
      return { flow_nL_min: step.flow_nL_min, current_nA: Number.NaN, regime: null, used: false };
    const p = meanProbabilities(inside);
    // Twice the flow makes the very step of a second jet: a calm level counts whichever of both it was taken for.
    const regime = p.steady + p['several jets'] > 0.5 ? 'steady' : likeliest(p);
    const current_nA = median(inside.map((w) => w.level_nA));
    return { flow_nL_min: step.flow_nL_min, current_nA, regime, used: regime === 'steady' && current_nA > 0 };
  });
  return fitFlow(points, surfaceTension_N_m);
}

function fitFlow(
  points: FlowPoint[],
  surfaceTension: { value: number; low: number; high: number } | undefined,
): FlowWalk {
  const used = points.filter((p) => p.used);
  const walk: FlowWalk = {
    points,
    exponent: null,
    coefficient_nA: null,
    root_coefficient: null,
    conductivity_S_m: null,
    sentences: [],
    warnings: [],
  };
  const left = points.length - used.length;
  if (left > 0)
    walk.warnings.push(
      `${left} of ${points.length} steps were no single steady jet (or had no current) and were left out.`,
    );
  if (used.length < 3) {
    walk.warnings.push(`${used.length} usable steps; three or more are needed for an exponent.`);
    return walk;
  }
  const x = used.map((p) => Math.log(p.flow_nL_min));
  const y = used.map((p) => Math.log(p.current_nA));
  const n = used.length;
  const mx = x.reduce((a, b) => a + b, 0) / n;
  const my = y.reduce((a, b) => a + b, 0) / n;
  const sxx = x.reduce((s, v) => s + (v - mx) ** 2, 0);
  if (!(sxx > 0)) {
    walk.warnings.push('All steps have one flow: no exponent.');
    return walk;
  }
  const b = x.reduce((s, v, i) => s + (v - mx) * (y[i]! - my), 0) / sxx;
  const a = my - b * mx;
  const rest = y.reduce((s, v, i) => s + (v - a - b * x[i]!) ** 2, 0) / (n - 2);
  const t = student(n - 2);
  const db = t * Math.sqrt(rest / sxx);
  const da = t * Math.sqrt(rest * (1 / n + mx ** 2 / sxx));
  walk.exponent = { value: b, low: b - db, high: b + db };
  walk.coefficient_nA = { value: Math.exp(a), low: Math.exp(a - da), high: Math.exp(a + da) };
  const roots = y.map((v, i) => v - 0.5 * x[i]!);
  const root = roots.reduce((s, v) => s + v, 0) / n;
  const spread = Math.sqrt(roots.reduce((s, v) => s + (v - root) ** 2, 0) / (n - 1));
  const dr = (student(n - 1) * spread) / Math.sqrt(n);
  walk.root_coefficient = { value: Math.exp(root), low: Math.exp(root - dr), high: Math.exp(root + dr) };
  const span = Math.max(...used.map((p) => p.flow_nL_min)) / Math.min(...used.map((p) => p.flow_nL_min));
  if (span < LEAST_SPAN)
    walk.warnings.push(
      `The flows span a factor ${Number(span.toPrecision(2))} only: the exponent says little.`,
    );
  const fits = walk.exponent.high >= EXPONENT_LOW && walk.exponent.low <= EXPONENT_HIGH;
  const text = (r: { value: number; low: number; high: number }, digits = 3) =>
    `${Number(r.value.toPrecision(digits))} (${Number(r.low.toPrecision(digits))} to ${Number(r.high.toPrecision(digits))})`;
  walk.sentences.push(
    `I = ${text(walk.coefficient_nA)} nA times (Q in nL/min) to the power ${text(walk.exponent, 2)}, 95 % ranges, ${n} steps.`,
    fits
      ? 'The exponent agrees with a steady cone-jet (0.5; 0.4 to 0.55 in experiments).'
      : 'The exponent is not that of one steady cone-jet (0.4 to 0.55): pulsation, a leak, a changing number of jets or a wrong flow.',
  );
  if (surfaceTension) {
    walk.conductivity_S_m = conductivityOf(walk.root_coefficient, surfaceTension, fits);
    walk.sentences.push(
      `Conductivity from I = 2.4 sqrt(γ K Q): ${text(walk.conductivity_S_m)} S/m${fits ? '' : ', doubtful: the exponent does not fit'}.`,
    );
  } else walk.sentences.push('With a set-up the surface tension is known and the conductivity follows.');
  return walk;
}

function conductivityOf(
  root: { value: number; low: number; high: number },
  surfaceTension: { value: number; low: number; high: number },
  valid: boolean,
): Estimate {
  const perSqrt = NA / Math.sqrt(NL_MIN);
  const K = (r: number, c: number, g: number) => ((r * perSqrt) / c) ** 2 / g;
  const value = K(root.value, CONSENSUS.value, surfaceTension.value);
  const logs = (pairs: [number, number][]) =>
    Math.sqrt(pairs.reduce((s, [ratio, power]) => s + (power * Math.log(ratio)) ** 2, 0));
  const down = logs([
    [root.low / root.value, 2],
    [CONSENSUS.value / CONSENSUS.high, 2],
    [surfaceTension.high / surfaceTension.value, 1],
  ]);
  const up = logs([
    [root.high / root.value, 2],
    [CONSENSUS.value / CONSENSUS.low, 2],
    [surfaceTension.value / surfaceTension.low, 1],
  ]);
  return estimate(value, value * Math.exp(-down), value * Math.exp(up), {
    basis: 'inferred from current against flow, I = 2.4 sqrt(γ K Q)',
    sources: [
      'Fernandez de la Mora & Loscertales 1994, J. Fluid Mech. 260:155, read (abstract), coefficient from memory',
      'Gañán-Calvo 2004, J. Fluid Mech. 507:203, from memory',
    ],
    valid,
    ...(valid ? {} : { note: 'the exponent is not that of a steady cone-jet' }),
  });
}
