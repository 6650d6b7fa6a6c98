/** The series of a reading as comma-separated values, one row for each MS1 scan, in the order of the groups. */
import type { RunReading } from './run-reading.ts';
import type { Span } from './run-trust.ts';

const HEADER = 'time_s,group,level,injection_ms,in_trustworthy,event';

/** `group` is the group's label; `in_trustworthy` is 0 for every scan outside the main group. Lines end with CR LF (RFC 4180). */
export function readingCsv(reading: RunReading): string {
  const lines = [HEADER];
  reading.groups.forEach((group, index) => {
    const { time_s, level, injection_ms } = group.series;
    // A gap has no scans; the two that bound it do not belong to it.
    const events = reading.events.filter(
      (event) => event.group === index && event.kind !== 'acquisition gap',
    );
    const trusted = index === reading.main_group ? reading.trustworthy : [];
    const label = quoted(group.label);
    let at = 0;
    let next = 0;
    for (let i = 0; i < time_s.length; i++) {
      const time = time_s[i]!;
      while (at < trusted.length && trusted[at]!.end_s < time) at++;
      while (next < events.length && events[next]!.end_s < time) next++;
      const kept = inside(trusted[at], time) ? 1 : 0;
      const event = inside(events[next], time) ? events[next]!.kind : '';
      lines.push(`${time},${label},${level[i]},${injection_ms[i] ?? ''},${kept},${event}`);
    }
  });
  return `${lines.join('\r\n')}\r\n`;
}

function inside(span: Span | undefined, time: number): boolean {
  return span !== undefined && time >= span.start_s && time <= span.end_s;
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
