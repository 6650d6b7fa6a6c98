/** A probability as a person says it; the number always stands beside it. */
const WORDS: readonly [number, string][] = [
  [0.9, 'almost sure'],
  [0.7, 'likely'],
  [0.5, 'more likely than not'],
  [0.2, 'possible'],
  [0.05, 'one of several'],
  [0, 'hardly'],
];

export function beliefWords(p: number): string {
  return WORDS.find(([from]) => p >= from)?.[1] ?? 'hardly';
}

export function percent(p: number): string {
  const whole = 100 * p;
  return whole > 0 && whole < 1 ? 'under 1 %' : `${Math.round(whole)} %`;
}

/** How far one answer moved the first cause against the catalogue's mean [bit]. */
export function movedWords(bits: number, name: string): string {
  const size = Math.abs(bits);
  if (size < 0.1) return `moves ${name} hardly`;
  const strength = size > 1.5 ? 'strongly ' : size > 0.5 ? '' : 'a little ';
  return `speaks ${strength}${bits > 0 ? 'for' : 'against'} ${name}`;
}
