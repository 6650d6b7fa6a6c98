/**
 * The ions of an invented run: siloxanes from the room's air, a chemical background, and eluting compounds with an
 * isotope pattern of their own. None of them stands for a sample that exists.
 * Siloxane masses: monoisotopic, computed from the atomic masses; [M+H]+ and [M+NH4]+ of the rings with 5 to 8 units.
 */
import { randomStream } from '../core/random.ts';

export interface BackgroundIon {
  mz: number;
  /** Charges per second. */
  flux: number;
}

export interface ElutingIon {
  mz: number;
  charge: number;
  apex_s: number;
  sigma_s: number;
  /** Flux at the apex [charges/s], without a tail. */
  flux: number;
  /** Time constant of a volume that the peak is mixed in [s]; absent: none. */
  tail_s?: number;
}

export interface PeakChange {
  from_s: number;
  /** Factor on the width. */
  width: number;
  tail_s: number;
}

export interface InventedIons {
  background: BackgroundIon[];
  eluting: ElutingIon[];
}

const SILOXANES = [371.1012, 388.1278, 445.12, 462.1466, 519.1388, 536.1654, 593.1576, 610.1842];
const SILOXANE_FLUX = 6e5;
const CHEMICAL_BACKGROUND = 110;
const CHEMICAL_FLUX = 4.5e7;
/** Eluting ions are this bright at the median; the spread is log-normal. */
const ELUTING_FLUX = 2.5e7;
const ELUTING_SPREAD = 0.7;
/** Nothing elutes in the first part of the run, nor in the wash at its end. */
const ELUTION_SHARE = [0.12, 0.76] as const;
/** Mass difference of the isotopes of carbon, 13C − 12C [u]. */
const ISOTOPE_STEP = 1.00335484;
const ISOTOPES = 4;

export function inventedIons(seed: number, length_s: number, peaks: number): InventedIons {
  const draw = randomStream(seed, 'ions');
  const background: BackgroundIon[] = SILOXANES.map((mz) => ({ mz, flux: SILOXANE_FLUX * draw.factor(0.4) }));
  for (let i = 0; i < CHEMICAL_BACKGROUND; i++) {
    background.push({
      mz: draw.between(401, 1590),
      flux: (CHEMICAL_FLUX / CHEMICAL_BACKGROUND) * draw.factor(0.8),
    });
  }
  const eluting: ElutingIon[] = [];
  for (let i = 0; i < peaks; i++) {
    const charge = draw.unit() < 0.7 ? 2 : 3;
    eluting.push({
      mz: draw.between(420, 1150),
      charge,
      apex_s: length_s * draw.between(...ELUTION_SHARE),
      sigma_s: draw.between(4, 9),
      flux: ELUTING_FLUX * draw.factor(ELUTING_SPREAD),
    });
  }
  return { background, eluting };
}

/** Peaks that elute later than `from_s` are broad or trail; what elutes stays the same amount. */
export function changedPeaks(ions: InventedIons, change: PeakChange | undefined): InventedIons {
  if (change === undefined) return ions;
  const eluting = ions.eluting.map((ion) => {
    if (ion.apex_s < change.from_s) return ion;
    const changed = { ...ion, sigma_s: ion.sigma_s * change.width, flux: ion.flux / change.width };
    if (change.tail_s > 0) changed.tail_s = change.tail_s;
    return changed;
  });
  return { ...ions, eluting };
}

/** Steps of the mixing volume's answer, in widths of the peak, and how long it is followed, in time constants. */
const TAIL_STEP = 0.5;
const TAIL_LENGTH = 6;

/** A Gaussian; behind a mixing volume, its sum over the volume's exponential answer. */
export function ionFlux(ion: ElutingIon, time_s: number): number {
  const { tail_s } = ion;
  if (tail_s === undefined) return gaussian(ion, time_s);
  const step_s = TAIL_STEP * Math.min(ion.sigma_s, tail_s);
  const fade = Math.exp(-step_s / tail_s);
  const first = Math.max(0, Math.floor((time_s - ion.apex_s - 5 * ion.sigma_s) / step_s));
  const last = Math.min((TAIL_LENGTH * tail_s) / step_s, (time_s - ion.apex_s + 5 * ion.sigma_s) / step_s);
  let sum = 0;
  for (let k = first; k <= last; k++) sum += fade ** k * gaussian(ion, time_s - k * step_s);
  return (1 - fade) * sum;
}

function gaussian(ion: ElutingIon, time_s: number): number {
  const z = (time_s - ion.apex_s) / ion.sigma_s;
  return ion.flux * Math.exp(-0.5 * z * z);
}

/** Isotope peaks of one eluting ion: m/z and share of its flux (Poisson in the number of heavy carbons). */
export function isotopes(ion: ElutingIon): { mz: number; share: number }[] {
  const mean = (ion.mz * ion.charge) / 1800;
  let share = 1;
  let total = 0;
  const pattern: { mz: number; share: number }[] = [];
  for (let k = 0; k < ISOTOPES; k++) {
    pattern.push({ mz: ion.mz + (k * ISOTOPE_STEP) / ion.charge, share });
    total += share;
    share *= mean / (k + 1);
  }
  return pattern.map((peak) => ({ mz: peak.mz, share: peak.share / total }));
}
