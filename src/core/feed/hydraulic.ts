/**
 * Hagen–Poiseuille resistance to flow, Δp = 128 µ L Q/(π D⁴) for a straight bore and
 * Δp = 128 µ Q/(3 π k) (1/D1³ − 1/D2³) for a bore that widens from D1 to D2 with slope k = (D2 − D1)/L.
 * Laminar (Re below 2 here), Newtonian, no end effects. SI: [Pa s/m3].
 * Worked number: µ 0.82 mPa s, 20 µm bore, 1 cm, 300 nL/min: 0.104 bar; 10 → 75 µm over 3 mm: 0.026 bar.
 */
export function straightResistance(viscosity: number, length: number, bore: number): number {
  return (128 * viscosity * length) / (Math.PI * bore ** 4);
}

export function taperedResistance(viscosity: number, length: number, narrow: number, wide: number): number {
  if (wide - narrow < 1e-6 * narrow) return straightResistance(viscosity, length, narrow);
  const slope = (wide - narrow) / length;
  return ((128 * viscosity) / (3 * Math.PI * slope)) * (narrow ** -3 - wide ** -3);
}
