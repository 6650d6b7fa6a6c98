import { expect, test } from 'vitest';
import { madeRecord } from '../../test/kit/made-record.ts';
import { inventedRunTruth } from '../rehearsal/index.ts';
import { readingCsv, readingText, readRun } from './index.ts';

const MOST_LINES = 40;

function demo(parts: Parameters<typeof madeRecord>[1] = {}) {
  const { time_s, level, injection_ms } = inventedRunTruth({ seed: 7 });
  const scans = time_s.map((time, i) => ({ time_s: time, tic: level[i]!, injection_ms: injection_ms[i]! }));
  return readRun(madeRecord(scans, parts));
}

test('the text begins with the banner and the verdict and names every event', () => {
  const lines = readingText(demo({ invented: true }))
    .trimEnd()
    .split('\n');
  expect(lines[0]).toContain('INVENTED DATA');
  expect(lines[1]).toMatch(/^Keep these minutes: /);
  expect(lines.filter((line) => / the level (drops out|sags) /.test(line))).toHaveLength(4);
  expect(lines.length).toBeLessThanOrEqual(MOST_LINES);
  expect(readingText(demo())).not.toContain('INVENTED');
});

test('a run of many groups, events and warnings stays within the page', () => {
  const scans = Array.from({ length: 6000 }, (_, i) => ({
    time_s: i * 0.5,
    tic: i % 120 < 12 ? 1e4 : 1e7 + (i % 7) * 1e5,
    polarity: i % 2 === 0 ? 1 : -1,
    low: 300 + (i % 6) * 100,
    high: 400 + (i % 6) * 100,
  }));
  const reading = readRun(
    madeRecord(scans, {
      warnings: Array.from({ length: 30 }, (_, i) => `warning ${i}`),
      broken: { byte: 5, reason: 'cut' },
      invented: true,
    }),
  );
  expect(reading.groups.length).toBeGreaterThan(4);
  expect(reading.events.length).toBeGreaterThan(20);
  expect(readingText(reading).trimEnd().split('\n').length).toBeLessThanOrEqual(MOST_LINES);
});

test('the table has a row for each scan and marks what is trusted', () => {
  const reading = demo();
  const rows = readingCsv(reading).trimEnd().split('\r\n');
  expect(rows[0]).toBe('time_s,group,level,injection_ms,in_trustworthy,event');
  expect(rows).toHaveLength(801);
  expect(rows[1]).toMatch(/^0\.4\d*,"positive, m\/z 350–1600",\d+(\.\d+)?,\d+\.\d+,1,$/);
  const dropout = reading.events.find((event) => event.kind === 'dropout')!;
  const inside = rows.slice(1).filter((row) => {
    const time = Number(row.split(',')[0]);
    return time > dropout.start_s && time < dropout.end_s;
  });
  expect(inside.length).toBeGreaterThan(0);
  for (const row of inside) expect(row).toMatch(/,0,dropout$/);
});
