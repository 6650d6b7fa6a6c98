/** Correlation of two equally long samples that stand about zero: sum a b / sqrt(sum a^2 sum b^2); NaN where either is all zero. */
export function correlationAboutZero(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i++) {
    ab += a[i]! * b[i]!;
    aa += a[i]! * a[i]!;
    bb += b[i]! * b[i]!;
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : Number.NaN;
}
