/**
 * The rehearsed bench, run as a person runs it and read off its own traces and scans, against statements from outside. A rehearsal is
 * no measurement: what is checked is that the bench keeps to what is known, not that nature does.
 */
import { describe, expect, it } from 'vitest';
import type { Setup } from '../../src/core/setup.ts';
import {
  type Bench,
  type BenchControls,
  createBench,
  METERS,
  rehearsalSetup,
} from '../../src/rehearsal/index.ts';
import { expectWithin } from '../within.ts';

const SEED = 24;
const TICKS_PER_S = 200;
const EPSILON_0 = 8.8541878128e-12;
const NL_MIN = 1e-12 / 60;
const slow = { ...METERS.usual, rate_Hz: 10_000, bandwidth_Hz: 1_000, noise_A: 0 };
const fast = { ...METERS.wide, noise_A: 0 };

/** An emitter of this outer diameter that wets its rim. */
function rimOf(rim_um: number): Setup {
  return { ...rehearsalSetup, emitter: { ...rehearsalSetup.emitter, rim_um, bore_um: rim_um / 2 } };
}

const still: BenchControls = {
  voltage_V: 0,
  flow_nL_min: 300,
  distance_mm: 3,
  offset_mm: 0,
  high_voltage: true,
};

/** Holds the tip at this ratio to the onset of the moment; the voltage follows four times a second, as a hand would. */
function held(bench: Bench, ratio: number, seconds: number, over: Partial<BenchControls> = {}) {
  const controls = { ...still, offset_mm: bench.truth.centre_mm, ...over };
  const samples: number[] = [];
  const levels: number[] = [];
  const piece = new Float32Array(bench.samplesPerTick);
  const traced = Math.min(seconds, 0.4) * TICKS_PER_S;
  const ticks = Math.round(seconds * TICKS_PER_S);
  let current = 0;
  for (let k = 0; k < ticks; k++) {
    const { truth, state } = bench;
    const onset = state.onset_V || bench.tip.onset(truth.contactRadius, 3e-3, truth.liquid.surfaceTension);
    if (k % 50 === 0) controls.voltage_V = over.voltage_V ?? ratio * onset;
    const last = k >= ticks - traced;
    const scan = bench.tick(controls, last ? piece : undefined);
    if (last) for (const sample of piece) samples.push(sample);
    if (scan) levels.push(scan.level);
    if (k >= ticks / 2) current += bench.state.current_A / (ticks - Math.ceil(ticks / 2));
  }
  return { samples, levels, current };
}

/** Pulses a second: rises through half of what the higher pulses reach. */
function pulseRate(samples: readonly number[], rate_Hz: number): number {
  const high = [...samples].sort((a, b) => a - b)[Math.floor(0.995 * samples.length)]!;
  let rises = 0;
  let armed = true;
  for (const value of samples) {
    if (armed && value > 0.35 * high) {
      rises++;
      armed = false;
    } else if (value < 0.15 * high) armed = true;
  }
  return (rises * rate_Hz) / samples.length;
}

const COUNTED = {
  relative: 0.1,
  reason: 'the wobble of the voltage and jitter of intervals move a count over 0.4 s by some percent',
};

describe('pulsation', () => {
  const near = (bench: Bench) => 1 + 0.83 * (bench.truth.steadyFrom - 1);
  const measured = (rim_um: number) => {
    const bench = createBench({ seed: SEED, setup: rimOf(rim_um), meter: fast });
    held(bench, near(bench), 9);
    const { samples } = held(bench, near(bench), 0.4);
    return { rate_Hz: pulseRate(samples, fast.rate_Hz), bench };
  };

  // Marginean et al. 2006, Appl. Phys. Lett. 89:064104, read (abstract): 57 % at 65 µm, 74 % at 50 µm; kHz computed for γ 0.0349, ρ 910.
  it.each([
    [65, 4370],
    [50, 5300],
  ])(
    'at %d µm rings at %d Hz, where the bench has its own liquid and contact line',
    (radius_um, published) => {
      const { rate_Hz, bench } = measured(2 * radius_um);
      const { surfaceTension, density } = bench.truth.liquid;
      const liquid = Math.sqrt(surfaceTension / density / (0.0349 / 910));
      const size = (bench.state.contact / (radius_um * 1e-6)) ** -1.5;
      // At this place between onset and steady edge the bench rings at 0.96 of the mode; the charge share follows the contact line.
      expectWithin(rate_Hz / (liquid * size), 0.96 * published, {
        relative: 0.15,
        reason: 'the true contact line is some percent off the radius, and the share of charge with it',
      });
    },
  );

  // Computed from the same mode for radii of 5 to 15 µm: 20 to 250 kHz.
  it('of emitters of 10 to 30 µm lies between 20 and 250 kHz and goes as radius to the power -3/2', () => {
    const [small, large] = [measured(10), measured(30)];
    for (const { rate_Hz } of [small, large]) {
      expect(rate_Hz).toBeGreaterThan(20e3);
      expect(rate_Hz).toBeLessThan(250e3);
    }
    const power =
      Math.log(small.rate_Hz / large.rate_Hz) /
      Math.log(small.bench.state.contact / large.bench.state.contact);
    expectWithin(power, -1.5, COUNTED);
  });

  // Bober and Chen 2011, J. Fluid Mech. 689:552, read (abstract): frequency in proportion to the flow where the flow chokes it.
  it('slows down in proportion to a flow below the minimum', () => {
    const at = (share: number) => {
      const bench = createBench({ seed: SEED, meter: fast });
      const flow_nL_min = (share * bench.truth.minimumFlow) / NL_MIN;
      held(bench, near(bench), 9, { flow_nL_min });
      return pulseRate(held(bench, near(bench), 0.4, { flow_nL_min }).samples, fast.rate_Hz);
    };
    expectWithin(at(0.8) / at(0.4), 2, COUNTED);
  });
});

describe('the current', () => {
  const law = (bench: Bench, flow_nL_min: number) =>
    Math.sqrt(bench.truth.liquid.surfaceTension * bench.truth.liquid.conductivity * flow_nL_min * NL_MIN);

  // 2.4 between 2.0 and 2.6; exponent 0.5, experiments 0.4 to 0.55: Fernández de la Mora and Loscertales 1994, J. Fluid Mech. 260:155,
  // read (abstract); Gañán-Calvo 2004, J. Fluid Mech. 507:203 (from memory). Over the window it rises by 5 to 20 % (from memory).
  it('of a steady jet is 2.0 to 2.6 times √(γKQ) just above its edge, for any emitter, and its exponent is 0.5', () => {
    for (const seed of [SEED, 3, 5]) {
      const bench = createBench({ seed, meter: slow });
      const points = [100, 200, 400, 800].map((flow_nL_min) => {
        held(bench, 1.02 * bench.truth.steadyFrom, 10, { flow_nL_min });
        const { current } = held(bench, 1.02 * bench.truth.steadyFrom, 4, { flow_nL_min });
        expect(bench.state.regime).toBe('cone-jet');
        expect(current / law(bench, flow_nL_min)).toBeGreaterThan(1.97);
        expect(current / law(bench, flow_nL_min)).toBeLessThan(2.67);
        return [Math.log(flow_nL_min), Math.log(current)] as const;
      });
      const slope = (points.at(-1)![1] - points[0]![1]) / (points.at(-1)![0] - points[0]![0]);
      expectWithin(slope, 0.5, { relative: 0.03, reason: 'a drift of 0.6 % over ln 8' });
    }
  });

  it('goes as the root of the conductivity', () => {
    const at = (fault: string) => {
      const bench = createBench({ seed: SEED, meter: slow, fault });
      held(bench, bench.truth.bestRatio, 10);
      const { current } = held(bench, bench.truth.bestRatio, 4);
      return { current, factor: bench.truth.fault?.effects.conductivityFactor ?? 1 };
    };
    const [usual, salty, pure] = [at('none'), at('conductivity-high'), at('mobile-phase-wrong')];
    for (const { current, factor } of [salty, pure])
      expectWithin(current / usual.current, Math.sqrt(factor), {
        relative: 0.03,
        reason: 'drifts of 0.6 % on both sides',
      });
  });

  it('rises by 5 to 20 % across the window of one jet', () => {
    const bench = createBench({ seed: SEED, meter: slow });
    held(bench, bench.truth.steadyFrom * 1.02, 10);
    const low = held(bench, bench.truth.steadyFrom * 1.01, 4).current;
    const high = held(bench, bench.truth.severalFrom * 0.985, 4).current;
    expect(bench.state.jets).toBe(1);
    expect(high / low).toBeGreaterThan(1.05);
    expect(high / low).toBeLessThan(1.2);
  });

  // Jets that share the flow: I ∝ √Q each, so √n together (computed).
  it('steps by the root of the number of jets', () => {
    const bench = createBench({ seed: SEED, meter: slow });
    held(bench, bench.truth.bestRatio, 10);
    const found = new Map<number, number>();
    for (let ratio = bench.truth.severalFrom * 0.96; found.size < 4; ratio *= 1.045) {
      const { current } = held(bench, ratio, 3);
      // The rise with the voltage, told apart from the step.
      found.set(bench.state.jets, current / (1 + 0.4 * (ratio / bench.truth.steadyFrom - 1)));
    }
    for (const jets of [2, 3, 4])
      expectWithin(found.get(jets)! / found.get(1)!, Math.sqrt(jets), {
        relative: 0.03,
        reason: 'drifts of 0.6 % on both sides',
      });
  });

  // Shot noise of droplets: RSD = √(2 q B / I), computed 0.57 % at 1 kHz for 125 nA and 2 fC; with one pole B is π/2 times its corner.
  it('of a steady jet is as quiet as its droplets below 1 kHz, and its noise grows as the root of the bandwidth', () => {
    const noise = (bandwidth_Hz: number) => {
      const meter = { ...fast, bandwidth_Hz, fullScale_A: 5e-7 };
      const bench = createBench({ seed: SEED, meter });
      held(bench, bench.truth.bestRatio, 9);
      const { samples } = held(bench, bench.truth.bestRatio, 0.4);
      // Differences over a few time constants: the drift of the level drops out.
      const apart = Math.round((4 * meter.rate_Hz) / (2 * Math.PI * bandwidth_Hz));
      let [square, sum, count] = [0, 0, 0];
      for (let i = apart; i < samples.length; i += apart) {
        square += (samples[i]! - samples[i - apart]!) ** 2 / 2;
        sum += samples[i]!;
        count++;
      }
      return Math.sqrt(square / count) / (sum / count);
    };
    const [at1kHz, at100kHz] = [noise(1_000), noise(100_000)];
    // Droplet noise alone is 0.1 to 0.6 % below 1 kHz (computed for 60 to 125 nA); above 1 % it is instability or electronics.
    expect(at1kHz).toBeGreaterThan(1e-3);
    expect(at1kHz).toBeLessThan(1e-2);
    expectWithin(at100kHz / at1kHz, 10, {
      relative: 0.15,
      reason: 'some hundred independent differences at 1 kHz',
    });
  });
});

describe('the feed', () => {
  // Qmin = (0.5 … 2) ε γ ε0/(ρ K) by order: Fernández de la Mora and Loscertales 1994, read (abstract); Gañán-Calvo, from memory.
  it('below a flow of the order of εγε₀/(ρK) no voltage holds a jet', () => {
    const bench = createBench({ seed: SEED });
    const { permittivity, surfaceTension, density, conductivity } = bench.truth.liquid;
    const scale = (permittivity * surfaceTension * EPSILON_0) / (density * conductivity) / NL_MIN;
    const stands = (flow_nL_min: number) => {
      const fresh = createBench({ seed: SEED });
      held(fresh, fresh.truth.bestRatio, 10, { flow_nL_min });
      return fresh.state.jets > 0;
    };
    expect(stands(0.1 * scale)).toBe(false);
    expect(stands(4 * scale)).toBe(true);
  });

  // A drop falls by its weight: 0.6 of 2πaγ (Harkins and Brown 1919, J. Am. Chem. Soc. 41:499, from memory: factor 0.6 to 0.75).
  it('drips by weight without voltage: π d³/6 over Q', () => {
    const bench = createBench({ seed: SEED });
    const { surfaceTension, density } = bench.truth.liquid;
    held(bench, 0, 40);
    let [before, drops, ticks] = [0, 0, 0];
    let first = 0;
    for (; drops < 6; ticks++) {
      bench.tick({ ...still, voltage_V: 0 });
      if (bench.state.drop < 0.5 * before) {
        if (drops === 0) first = ticks;
        drops++;
      }
      before = bench.state.drop;
    }
    const period_s = (ticks - first) / (drops - 1) / TICKS_PER_S;
    const weight = 0.65 * 2 * Math.PI * bench.state.contact * surfaceTension;
    expectWithin(period_s, weight / (density * 9.81) / (300 * NL_MIN), {
      relative: 0.15,
      reason: 'the printed factor itself is 0.6 to 0.75',
    });
  });
});

describe('the signal over the stage', () => {
  // No open table of ion signal against position was found. Judgement of the reference: bell of 1 to 2 mm full width at half height
  // sideways, the best a little off the axis at usual flow, best distance 1 to 3 mm.
  const map = (flow_nL_min: number) => {
    const bench = createBench({ seed: SEED });
    held(bench, bench.truth.bestRatio, 10, { flow_nL_min });
    const offsets = Array.from({ length: 41 }, (_, k) => (k - 20) * 0.1);
    const levels = offsets.map((off) => {
      const offset_mm = bench.truth.centre_mm + off;
      held(bench, bench.truth.bestRatio, 0.25, { flow_nL_min, offset_mm });
      return bench.state.level;
    });
    const most = Math.max(...levels);
    const above = offsets.filter((_, k) => levels[k]! > 0.5 * most);
    return {
      width_mm: above.at(-1)! - above[0]!,
      best_mm: Math.abs(offsets[levels.indexOf(most)]!),
      most,
      levels,
    };
  };

  it('is best on the axis at low flow and off it at 300 nL/min, within half a millimetre or so', () => {
    const [low, usual] = [map(80), map(300)];
    expect(low.best_mm).toBeLessThan(0.25);
    expect(low.width_mm).toBeGreaterThan(0.6);
    expect(low.width_mm).toBeLessThan(1.1);
    expect(usual.best_mm).toBeGreaterThan(0.25);
    expect(usual.best_mm).toBeLessThan(0.8);
    expect(usual.width_mm).toBeGreaterThan(1);
    expect(usual.width_mm).toBeLessThan(2.1);
    expect(usual.levels[20]! / usual.most).toBeLessThan(0.8);
  });

  it('is best at 1 to 3.5 mm from the inlet', () => {
    for (const seed of [SEED, 3]) {
      const bench = createBench({ seed });
      const levels = [1, 2, 2.5, 3, 3.5, 4.5].map((distance_mm) => {
        held(bench, bench.truth.bestRatio, distance_mm === 1 ? 10 : 0.5, { distance_mm });
        return [bench.state.level, distance_mm] as const;
      });
      const best = levels.reduce((a, b) => (b[0] > a[0] ? b : a))[1];
      expect(best).toBeGreaterThan(1);
      expect(best).toBeLessThanOrEqual(3.5);
    }
  });
});
