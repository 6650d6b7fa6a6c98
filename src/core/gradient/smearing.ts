/**
 * How a piece between pump and tip delays and smears a change of composition: first moment (always volume over flow,
 * t = V/Q) and variance of a step's arrival.
 * - mixer, ideally stirred: exponential, σ² = t² (textbook).
 * - open tube: Taylor–Aris dispersion, D_eff = D (1 + Pe²/48), Pe = u a/D, σ² = 2 D_eff L/u³ = t² (2 D/(u L) + a²/(24 D t)).
 *   Holds once diffusion has crossed the bore, D t/a² ≥ 1; earlier the profile is convective and σ is capped at t/2.
 * - packed bed: σ² = t² H/L with H = h dp, reduced plate height h 2 to 6.
 * Neglected: retention of the organic solvent itself (in a reversed-phase bed it arrives later than t, by up to its own
 * retention), connections, bends, the pump's own mixing. SI.
 * Worked number: 20 µm bore, 300 mm, 300 nL/min, D 1.5e-9: t 18.8 s, σ² = t² · 1.5e-4, σ 0.23 s.
 * Sources: Taylor 1953, Proc. R. Soc. A 219, 186; Aris 1956, Proc. R. Soc. A 235, 67; Ananthakrishnan, Gill & Barduhn
 * 1965, AIChE J. 11, 1063; Knox 1977, J. Chromatogr. Sci. 15, 352 (all from memory).
 */
export interface Arrival {
  /** First moment [s]. */
  mean: number;
  /** Standard deviation [s]: middle and range. */
  sd: { low: number; middle: number; high: number };
  law: string;
  valid: boolean;
  note?: string;
}

/** Organic solvent in water [m2/s]: acetonitrile and methanol near 1.5e-9, 2-propanol near 1e-9; mixtures lower (from memory). */
export const SOLVENT_DIFFUSION = { low: 0.8e-9, middle: 1.5e-9, high: 2e-9 };
/** Well packed beds reach 2 to 3 at their best flow; capillaries off it 6 (Knox, from memory; upper end judgement). */
export const REDUCED_PLATE_HEIGHT = { low: 2, middle: 3, high: 6 };
/** A bed whose particles are not stated [m] (judgement). */
const PARTICLE = { low: 1.5e-6, middle: 2e-6, high: 5e-6 };
/** A bed whose length is not stated: 1 % of its delay (judgement). */
const BED_SHARE = { low: 0.005, middle: 0.01, high: 0.03 };
/** D t/a² from which Taylor–Aris holds; 0.8 in Ananthakrishnan et al., rounded up. */
export const TAYLOR_FROM = 1;
const MOST_SD_SHARE = 0.5;

export function mixerArrival(volume: number, flow: number): Arrival {
  const mean = volume / flow;
  return { mean, sd: same(mean), law: 'ideally stirred: exponential', valid: true };
}

/** Variance over the square of the mean for one diffusion coefficient, uncapped. */
export function taylorArisVariance(mean: number, bore: number, length: number, diffusion: number): number {
  const velocity = length / mean;
  const radius = bore / 2;
  const peclet = (velocity * radius) / diffusion;
  return (2 * diffusion * (1 + peclet ** 2 / 48)) / (velocity * length);
}

export function tubeArrival(volume: number, bore: number, length: number, flow: number): Arrival {
  const mean = volume / flow;
  const sd = (diffusion: number) =>
    mean * Math.min(MOST_SD_SHARE, Math.sqrt(taylorArisVariance(mean, bore, length, diffusion)));
  const each = Object.values(SOLVENT_DIFFUSION).map(sd);
  const developed = (SOLVENT_DIFFUSION.middle * mean) / (bore / 2) ** 2;
  const base = {
    mean,
    sd: { low: Math.min(...each), middle: sd(SOLVENT_DIFFUSION.middle), high: Math.max(...each) },
    law: 'open tube: Taylor–Aris dispersion',
  };
  if (developed >= TAYLOR_FROM) return { ...base, valid: true };
  return {
    ...base,
    sd: { low: 0, middle: base.sd.middle, high: mean * MOST_SD_SHARE },
    valid: false,
    note: `diffusion has not crossed this bore within the passage (D t/a² = ${developed.toPrecision(2)}, below ${TAYLOR_FROM}): the front is convective, its smearing an order of magnitude only`,
  };
}

export function bedArrival(
  volume: number,
  flow: number,
  length: number | undefined,
  particle: number | undefined,
): Arrival {
  const mean = volume / flow;
  const law = `packed bed: reduced plate height ${REDUCED_PLATE_HEIGHT.low} to ${REDUCED_PLATE_HEIGHT.high}, organic solvent taken as not retained`;
  if (length === undefined)
    return {
      mean,
      sd: { low: mean * BED_SHARE.low, middle: mean * BED_SHARE.middle, high: mean * BED_SHARE.high },
      law,
      valid: true,
      note: 'no length stated: smearing 1 % of the delay (0.5 to 3 %, judgement)',
    };
  const sd = (which: 'low' | 'middle' | 'high') =>
    mean *
    Math.min(
      MOST_SD_SHARE,
      Math.sqrt((REDUCED_PLATE_HEIGHT[which] * (particle ?? PARTICLE[which])) / length),
    );
  return { mean, sd: { low: sd('low'), middle: sd('middle'), high: sd('high') }, law, valid: true };
}

/** A tube of which only the volume is known: the delay stands, the smearing may be anything up to half of it. */
export function plugArrival(volume: number, flow: number): Arrival {
  const mean = volume / flow;
  return {
    mean,
    sd: { low: 0, middle: 0, high: mean * MOST_SD_SHARE },
    law: 'only the volume is given: taken as a plug',
    valid: false,
    note: 'bore and length decide the smearing: not given',
  };
}

function same(value: number): Arrival['sd'] {
  return { low: value, middle: value, high: value };
}
