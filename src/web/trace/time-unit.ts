/** The unit in which a stretch of time reads without zeros. */
export function timeUnit(span_s: number): { seconds: number; name: string } {
  if (span_s > 600) return { seconds: 60, name: 'min' };
  if (span_s > 0.6) return { seconds: 1, name: 's' };
  if (span_s > 6e-4) return { seconds: 1e-3, name: 'ms' };
  return { seconds: 1e-6, name: 'µs' };
}
