/** Round lengths and steps: 1, 2 or 5 times a power of ten. */

/** The greatest round number not above `most`. */
export function niceBelow(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  const lead = most / power;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}

/** The least round number not below `least`. */
export function niceAbove(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const lead = least / power;
  return (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10) * power;
}
