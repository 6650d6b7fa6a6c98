/** What was done, line by line with its time, kept in this browser until it is kept with the bench: a crash loses nothing. */
const PREFIX = 'steadycone guide log ';

export function readLog(reading: string | undefined): string[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key(reading)) ?? '[]');
    return Array.isArray(kept) ? kept.filter((line) => typeof line === 'string') : [];
  } catch {
    return [];
  }
}

export function writeLog(reading: string | undefined, lines: readonly string[]): void {
  try {
    if (lines.length === 0) localStorage.removeItem(key(reading));
    else localStorage.setItem(key(reading), JSON.stringify(lines));
  } catch {
    // A browser that keeps nothing still shows the log on the page.
  }
}

/** '02:14 what was done', local time. */
export function logLine(what: string, now: Date): string {
  const two = (n: number) => String(n).padStart(2, '0');
  return `${two(now.getHours())}:${two(now.getMinutes())} ${what}`;
}

function key(reading: string | undefined): string {
  return `${PREFIX}${reading ?? 'without a reading'}`;
}
