/** Milliseconds of one call. */
export async function timed(task: () => Promise<unknown> | unknown): Promise<number> {
  const start = performance.now();
  await task();
  return performance.now() - start;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

export function megabytesPerSecond(bytes: number, ms: number): string {
  return (bytes / 1e3 / ms).toFixed(0);
}
