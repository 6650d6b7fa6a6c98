/** Numbers of a reading in words, the same everywhere. */

/** '12:34 min', or '8.2 s' in the first minute. */
export function timeText(time_s: number): string {
  if (time_s < 60) return `${time_s.toFixed(1)} s`;
  const whole = Math.round(time_s);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')} min`;
}

export function durationText(length_s: number): string {
  if (length_s < 9.95) return `${length_s.toFixed(1)} s`;
  if (length_s < 120) return `${Math.round(length_s)} s`;
  return `${(length_s / 60).toFixed(1)} min`;
}

export function percentText(share: number): string {
  const percent = share * 100;
  return percent > 0 && percent < 9.95 ? `${percent.toFixed(1)} %` : `${Math.round(percent)} %`;
}

/** With a capital letter, as a sentence begins. */
export function capital(words: string): string {
  return `${words[0]?.toUpperCase() ?? ''}${words.slice(1)}`;
}

/** What pressure or flow did during an event, behind its own sentence. */
export function besideText({ beside = [] }: { beside?: readonly string[] }): string {
  return beside.map((line) => ` ${line}`).join('');
}

/** What a share of usable minutes is a share of. */
export function timeMeant({ masked }: { masked: readonly unknown[] }): string {
  return masked.length > 0 ? 'of the time that is judged' : 'of the time with scans';
}
