/** One line on stderr, on a terminal only. */
export interface ProgressLine {
  say(text: string): void;
  clear(): void;
}

export function progressLine(): ProgressLine {
  const shown = process.stderr.isTTY === true;
  let last = '';
  return {
    say: (text) => {
      if (!shown || text === last) return;
      last = text;
      process.stderr.write(`\r\u001b[K${text.slice(0, Math.max(20, (process.stderr.columns || 80) - 1))}`);
    },
    clear: () => {
      last = '';
      if (shown) process.stderr.write('\r\u001b[K');
    },
  };
}

export function timeLeft(seconds: number | null): string {
  if (seconds === null) return '';
  if (seconds < 90) return `, about ${Math.max(1, Math.round(seconds))} s left`;
  if (seconds < 5400) return `, about ${Math.round(seconds / 60)} min left`;
  return `, about ${(seconds / 3600).toFixed(1)} h left`;
}
