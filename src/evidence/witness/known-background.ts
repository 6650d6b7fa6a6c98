/**
 * Names for background ions by mass alone: a mass that fits is no identification. Monoisotopic, computed from the atomic
 * masses, electron mass taken off; that they are common background is trade knowledge (Keller et al., 2008, Anal Chim
 * Acta 627:71, from memory).
 */
const POSITIVE: readonly (readonly [number, string])[] = [
  [149.0233, 'phthalate fragment'],
  [279.1591, 'dibutyl phthalate'],
  [301.141, 'dibutyl phthalate with sodium'],
  [338.3417, 'erucamide'],
  [355.0699, 'siloxane of 5 units less methane'],
  [371.1012, 'siloxane of 5 units'],
  [371.3156, 'dioctyl adipate'],
  [388.1278, 'siloxane of 5 units with ammonium'],
  [391.2843, 'dioctyl phthalate'],
  [413.2662, 'dioctyl phthalate with sodium'],
  [429.0887, 'siloxane of 6 units less methane'],
  [445.12, 'siloxane of 6 units'],
  [462.1466, 'siloxane of 6 units with ammonium'],
  [503.1075, 'siloxane of 7 units less methane'],
  [519.1388, 'siloxane of 7 units'],
  [536.1654, 'siloxane of 7 units with ammonium'],
  [593.1576, 'siloxane of 8 units'],
  [610.1842, 'siloxane of 8 units with ammonium'],
  [667.1764, 'siloxane of 9 units'],
  [684.2029, 'siloxane of 9 units with ammonium'],
];
const NEGATIVE: readonly (readonly [number, string])[] = [
  [112.9856, 'trifluoroacetate or sodium formate'],
  [255.233, 'palmitate'],
  [265.1479, 'dodecyl sulfate'],
  [281.2486, 'oleate'],
  [283.2643, 'stearate'],
];
/** Mass errors of whole files reach 7 ppm (seen in real files). */
const WITHIN_PPM = 10;

export function knownBackground(
  mz: number,
  polarity: 'positive' | 'negative' | 'unknown',
): string | undefined {
  const list = polarity === 'negative' ? NEGATIVE : POSITIVE;
  return list.find(([mass]) => Math.abs(mz / mass - 1) < WITHIN_PPM * 1e-6)?.[1];
}
