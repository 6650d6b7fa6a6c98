/**
 * How the error of the predicted window falls with what was seen, and how often the stated 80 % ranges hold, over seeded
 * hidden emitters: first drawn from the plan's own priors, then from truths the priors do not share. A walk is simulated: the
 * hidden emitter answers with its regime at a voltage, one answer in twenty is wrong, the voltage is read to 3 %.
 * This measures the inference; invented emitters are no evidence of the priors.
 */
import { conditionOf } from '../src/core/plan/condition.ts';
import { randomStream } from '../src/core/random.ts';
import type { Setup } from '../src/core/setup.ts';
import {
  bestVoltage,
  calibrated,
  type Observation,
  priorBelief,
  stateOf,
  voltageGrid,
  type WindowCondition,
  type WindowDraws,
  windowChances,
  windowDraws,
} from '../src/core/window/index.ts';

const EMITTERS = Number(process.env.EMITTERS ?? 150);
const SEED = 77;
const MOST = 3;
/** Of a named regime. */
const WRONG = 0.05;
const VOLTAGE = 0.03;

const BASE: Setup = {
  emitter: {
    bore_um: 10,
    rim_um: 20,
    taper_half_angle_deg: 8,
    shank_diameter_um: 360,
    free_length_mm: 10,
    material: 'fused silica',
    inside: 'widens',
    wets: 'rim',
  },
  liquid: {
    acetonitrile_percent: 25,
    methanol_percent: 0,
    propanol_2_percent: 0,
    additive: 'formic acid',
    additive_percent: 0.1,
    temperature_C: 25,
  },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  polarity: 'positive',
  inlet: { distance_mm: 2.5, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
  voltage: { contact: 'tip', column: [] },
};

interface World {
  name: string;
  setup: Setup;
  /** Multiplies every voltage of the truth. */
  coupling: number;
  /** Multiplies the truth's conductivity. */
  conductivity: number;
}

const world = (
  name: string,
  change: (s: Setup) => void = () => {},
  coupling = 1,
  conductivity = 1,
): World => {
  const setup = structuredClone(BASE);
  change(setup);
  return { name, setup, coupling, conductivity };
};
const WORLDS = [
  world("the plan's own priors"),
  world('rim twice as wide', (s) => {
    s.emitter.rim_um = 40;
  }),
  world('rim half as wide', (s) => {
    s.emitter.rim_um = 10.2;
  }),
  world('conductivity a third', () => {}, 1, 1 / 3),
  world('conductivity three times', () => {}, 1, 3),
  world('straight wire, no taper', (s) => {
    s.emitter.taper_half_angle_deg = 0;
    s.emitter.shank_diameter_um = s.emitter.rim_um;
  }),
  world('taper twice as blunt', (s) => {
    s.emitter.taper_half_angle_deg *= 2;
  }),
  world('inlet coupling 0.8', () => {}, 0.8),
  world('inlet coupling 1.25', () => {}, 1.25),
];

process.stdout.write(
  `${EMITTERS} hidden emitters each, seed ${SEED}; median error of steady edge and several-jets edge, and share of truths inside the 80 % range\n`,
);
const blind = windowDraws(priorBelief(), conditionOf(BASE));
const best = bestVoltage(windowChances(blind, voltageGrid(blind)));
process.stdout.write(
  `with nothing seen: onset ${[0.5, 0.1, 0.9].map((share) => Math.round(quantile(blind.onset_V, share))).join(', ')} V (median, 80 % range); best ${Math.round(best.voltage_V)} V, steady in ${percent(best.probability)}\n`,
);
for (const one of WORLDS) {
  const truth = truthOf(one);
  const random = randomStream(SEED, one.name);
  const rows = Array.from({ length: MOST + 1 }, () => ({
    steady: [] as number[],
    several: [] as number[],
    in: 0,
    of: 0,
    current: 0,
    read: 0,
    readIn: 0,
  }));
  for (let i = 0; i < EMITTERS; i++) {
    const seen: Observation[] = [];
    const condition = conditionOf(BASE);
    for (let n = 0; n <= MOST; n++) {
      const belief =
        n === 0 ? priorBelief() : calibrated(seen.map((s) => ({ condition, inletSide_V: 0, seen: s })));
      const believed = windowDraws(belief, condition);
      const row = rows[n]!;
      row.steady.push(errorOf(believed.steady_from_V, truth.steady_from_V[i]!));
      row.several.push(errorOf(believed.several_from_V, truth.several_from_V[i]!));
      for (const [values, at] of [
        [believed.steady_from_V, truth.steady_from_V[i]!],
        [believed.several_from_V, truth.several_from_V[i]!],
      ] as const) {
        row.of++;
        row.in += Number(inside(values, at));
      }
      const held = inside(believed.current_A, truth.current_A[i]!);
      row.current += Number(held);
      if (seen.some(({ current_nA }) => current_nA !== undefined)) {
        row.read++;
        row.readIn += Number(held);
      }
      seen.push(answer(truth, i, believed, n, random));
    }
  }
  process.stdout.write(`${one.name}\n`);
  rows.forEach((row, n) => {
    process.stdout.write(
      `  ${n} seen: steady edge ${percent(median(row.steady))}, several jets ${percent(median(row.several))}; window inside ${percent(row.in / row.of)}, current inside ${percent(row.current / EMITTERS)}${row.read > 0 ? `, once it was read ${percent(row.readIn / row.read)} (${row.read})` : ''}\n`,
    );
  });
}

/** The truth's own window: another seed, and the world's own emitter, coupling and conductivity. */
function truthOf({ setup, coupling, conductivity }: World): WindowDraws {
  const base = conditionOf(setup);
  const { conductivity_S_m: K } = base.liquid;
  const times = {
    ...K,
    value: K.value * conductivity,
    low: K.low * conductivity,
    high: K.high * conductivity,
  };
  const condition: WindowCondition = { ...base, liquid: { ...base.liquid, conductivity_S_m: times } };
  const truth = windowDraws(priorBelief(EMITTERS, SEED), condition);
  for (const key of [
    'onset_V',
    'steady_from_V',
    'steady_down_to_V',
    'tilt_from_V',
    'several_from_V',
  ] as const)
    truth[key] = truth[key].map((v) => v * coupling);
  return truth;
}

/** A walk: first the best guess, then a step towards the window or across it. */
function answer(
  truth: WindowDraws,
  i: number,
  believed: WindowDraws,
  n: number,
  random: ReturnType<typeof randomStream>,
): Observation {
  const middles = believed.steady_from_V.map((v, k) => Math.sqrt(v * believed.tilt_from_V[k]!));
  const guess = [median(middles), quantile(believed.steady_from_V, 0.4), quantile(believed.tilt_from_V, 0.6)][
    n % 3
  ]!;
  const state = stateOf(truth, i, guess);
  const names = {
    below_onset: 'no spray',
    pulsating: 'pulsating',
    steady: 'steady',
    tilted: 'tilted',
    several_jets: 'several jets',
    discharge: 'discharge',
  } as const;
  const all = Object.values(names);
  const seen = random.unit() < WRONG ? all[random.index(all.length)]! : names[state];
  const current =
    state === 'steady' ? { current_nA: (truth.current_A[i]! / 1e-9) * random.factor(0.05) } : {};
  return { tip_V: guess * random.factor(VOLTAGE), seen, ...current };
}

function errorOf(values: Float64Array, truth: number): number {
  return Math.abs(quantile(values, 0.5) / truth - 1);
}

function inside(values: Float64Array, truth: number): boolean {
  return quantile(values, 0.1) <= truth && truth <= quantile(values, 0.9);
}

function quantile(values: ArrayLike<number>, share: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}

function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
