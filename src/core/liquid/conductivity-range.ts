/**
 * How far the modelled conductivity may be off, by organic content and additive, and where the model ends.
 * Judgement after the liquids reference; nothing in a mixture was measured.
 */
import type { Blend } from './composition.ts';
import type { Additive } from './conductivity.ts';
import { TERNARY_WIDENING } from './property-estimates.ts';
import type { Organic } from './solvents.ts';

/** Up to here the pKa line is meant to hold, by volume fraction (methanol: x = 0.7). */
export const WEAK_ACID_LIMIT: Readonly<Record<Organic, number>> = {
  acetonitrile: 0.7,
  methanol: 0.85,
  '2-propanol': 0.5,
};
/** Beyond this ions pair (permittivity below about 48 for acetonitrile) and salts may fall out. */
const STRONG_LIMIT: Readonly<Record<Organic, number>> = {
  acetonitrile: 0.7,
  methanol: 0.7,
  '2-propanol': 0.5,
};

/** Strongest additive the model was compared with or may be trusted at [mol/m3]. */
const STRENGTH_LIMIT = { 'formic acid': 2650, 'acetic acid': 900, other: 140 } as const;

/** Factor of 80 % belief against organic fraction. Weak acids: 5 % in water, 15 % at 20 %, 1.4 at 50 %, 2 at 90 %. */
const WEAK_FACTOR: readonly (readonly [number, number])[] = [
  [0, 1.05],
  [0.05, 1.08],
  [0.2, 1.15],
  [0.5, 1.4],
  [0.7, 1.6],
  [0.8, 1.8],
  [0.9, 2.2],
  [1, 5],
];
/** Strong electrolytes: 5 % in water, 15 % to 70 %, then unaccounted pairing. */
const STRONG_FACTOR: readonly (readonly [number, number])[] = [
  [0, 1.05],
  [0.2, 1.1],
  [0.7, 1.15],
  [0.9, 1.5],
  [1, 2],
];
/** 2-propanol: nothing of its acid and proton behaviour is measured here; another quarter at half and half. */
const PROPANOL_PENALTY = 0.5;

/** Factor of 80 % belief on either side of the modelled conductivity; several organics: to the power 1.5. */
export function modelFactor(blend: Blend, additive: Additive): number {
  const table = isWeak(additive) ? WEAK_FACTOR : STRONG_FACTOR;
  const factor = interpolate(table, blend.organic_fraction);
  const propanol = blend.shares.find(({ organic }) => organic === '2-propanol')?.share ?? 0;
  const widened = factor * (1 + PROPANOL_PENALTY * propanol * blend.organic_fraction);
  return blend.shares.length > 1 ? widened ** TERNARY_WIDENING : widened;
}

/** Further factor on the low side, where what is known says the model is high. */
export function lowSide(blend: Blend, additive: Additive): number {
  if (additive.name === 'acetic acid') {
    // The CRC Handbook lies 6, 13, 21, 39 % below at 0.17, 0.33, 0.83, 1.7 mol/L.
    return 1 + 0.06 + 0.2 * Math.min(2, additive.concentration_mol_m3 / 1000);
  }
  if (additive.name === 'trifluoroacetic acid') {
    // Fully dissociated is an upper bound: 3 % lower in water for a pKa of 0.5, far lower in rich organic.
    return interpolate(
      [
        [0, 1.03],
        [0.5, 1.15],
        [0.7, 1.3],
        [0.9, 2],
        [1, 4],
      ],
      blend.organic_fraction,
    );
  }
  if (additive.name === 'ammonium bicarbonate') return 1.1;
  return 1;
}

export function compositionLimits(
  blend: Blend,
  additive: Additive,
): { tooRich: string | undefined; tooStrong: string | undefined } {
  const limits = isWeak(additive) ? WEAK_ACID_LIMIT : STRONG_LIMIT;
  const rich = blend.shares.some(({ organic }) => blend.organic_fraction > limits[organic] + 1e-9);
  const bound =
    additive.name === 'formic acid' || additive.name === 'acetic acid'
      ? STRENGTH_LIMIT[additive.name]
      : STRENGTH_LIMIT.other;
  return {
    tooRich: rich
      ? 'so much organic is beyond the stated composition range: pKa line, ion pairing and stray salt decide'
      : undefined,
    tooStrong:
      additive.concentration_mol_m3 > bound ? 'stronger than the model was compared with' : undefined,
  };
}

export function isWeak({ name }: Additive): boolean {
  return name === 'formic acid' || name === 'acetic acid';
}

function interpolate(table: readonly (readonly [number, number])[], at: number): number {
  let previous = table[0] ?? [0, 1];
  for (const point of table) {
    if (at <= point[0]) {
      const span = point[0] - previous[0];
      return span === 0 ? point[1] : previous[1] + ((point[1] - previous[1]) * (at - previous[0])) / span;
    }
    previous = point;
  }
  return previous[1];
}
