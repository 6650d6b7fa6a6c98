/**
 * Voltage [V] that a uniform gap in room air holds, V = 24.22 d + 6.08 sqrt(d) in kV with d in cm; a sharp tip or a droplet
 * bridge sparks at less. From memory; about 5 % between 1 mm and 10 cm, extrapolated below. Worked number: 1 mm: 4.34 kV.
 */
export function sparkVoltage(gap: number): number {
  const gap_cm = gap * 100;
  return 1000 * (24.22 * gap_cm + 6.08 * Math.sqrt(gap_cm));
}
