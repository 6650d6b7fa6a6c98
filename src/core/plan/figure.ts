/** Three figures, whole numbers up to 9999 in full, no exponent above 0.001. */
export function figure(value: number): string {
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size >= 10_000) return String(Number(value.toPrecision(3)));
  if (size >= 100) return Math.round(value).toString();
  if (size >= 0.001) return String(Number(value.toPrecision(3)));
  return value.toExponential(1);
}
