/**
 * Electrical resistance of the liquid between contact and tip, R = Σ L/(K A φ) [ohm], φ the liquid share of a packed piece
 * (tortuosity neglected), and the tip voltage that follows when the spray draws its current through it:
 * supply = tip + I(tip) R, with I(tip) = I0 (1 + s (tip/onset − 1.2)), s = 0.25: about 12 % across the window (judgement).
 * No solution at or above the onset means: no cone-jet at this supply and contact.
 * Worked number: 20 µm bore, 50 mm, K 0.020 S/m: 8.0e9 ohm, 398 V at 50 nA.
 */
export interface LiquidPiece {
  /** [m] */
  bore: number;
  /** [m] */
  length: number;
  openFraction: number;
}

export function liquidResistance(conductivity: number, pieces: readonly LiquidPiece[]): number {
  let sum = 0;
  for (const piece of pieces)
    sum += piece.length / (conductivity * Math.PI * (piece.bore / 2) ** 2 * piece.openFraction);
  return sum;
}

export interface SprayLoad {
  /** Onset at the tip [V]. */
  onset: number;
  /** Current at 1.2 times onset [A]. */
  current: number;
}

/** Current drawn at a tip voltage inside the cone-jet window [A]. */
export function loadCurrent(load: SprayLoad, tip: number): number {
  return load.current * (1 + CURRENT_SLOPE * (tip / load.onset - REFERENCE_RATIO));
}

/** Tip voltage [V] at a supply, or undefined where none at or above the onset exists. */
export function tipVoltage(load: SprayLoad, supply: number, resistance: number): number | undefined {
  const drop = load.current * resistance;
  const tip =
    (supply - drop * (1 - CURRENT_SLOPE * REFERENCE_RATIO)) / (1 + (drop * CURRENT_SLOPE) / load.onset);
  return tip >= load.onset ? tip : undefined;
}

/** Supply [V] that puts the tip at the given voltage. */
export function supplyFor(load: SprayLoad, tip: number, resistance: number): number {
  return tip + loadCurrent(load, tip) * resistance;
}

/** How far from the tip [m], along the pieces listed from contact to tip, the contact may sit for a resistance at most `limit`. */
export function reachFromTip(conductivity: number, pieces: readonly LiquidPiece[], limit: number): number {
  let reach = 0;
  let spent = 0;
  for (const piece of [...pieces].reverse()) {
    const own = liquidResistance(conductivity, [piece]);
    if (spent + own >= limit) return reach + piece.length * Math.max(0, (limit - spent) / own);
    spent += own;
    reach += piece.length;
  }
  return reach;
}

const CURRENT_SLOPE = 0.25;
const REFERENCE_RATIO = 1.2;
