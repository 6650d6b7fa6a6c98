import { expect, it } from 'vitest';
import type { RunReading } from '../../evidence/run-reading.ts';
import { levelScale, wholeSpan } from './trace-data.ts';
import { traceSvg } from './trace-svg.ts';

const time_s = Array.from({ length: 5000 }, (_, i) => i);
const reading = {
  invented: true,
  main_group: 0,
  verdict: { grade: 'keep', sentence: 'a < b & c', reasons: [] },
  events: [
    { kind: 'dropout', group: 0, start_s: 100, end_s: 160, depth: 1, confidence: 1, sentence: '' },
    {
      kind: 'acquisition gap',
      group: 0,
      start_s: 3000,
      end_s: 3001,
      depth: null,
      confidence: 1,
      sentence: '',
    },
  ],
  trustworthy: [{ start_s: 200, end_s: 2900 }],
  groups: [
    {
      label: 'positive',
      level_from: 'stated',
      start_s: 0,
      end_s: 4999,
      series: { time_s, level: time_s.map((t) => (t === 130 ? 0 : 1000 + t)), injection_ms: [] },
    },
  ],
} as unknown as RunReading;

it('writes a whole, finite, escaped picture in both scales', () => {
  for (const mode of ['linear', 'log'] as const) {
    const svg = traceSvg(reading, 0, levelScale(reading, 0, mode), wholeSpan(reading, 0));
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(svg).toContain('INVENTED DATA');
    expect(svg).toContain('a &lt; b &amp; c');
    expect(svg).toContain('1 dropout');
    expect(svg).toContain('trust 3.33 to 48.33 min');
    // The gap lifts the pen once: two strokes.
    const line = /clip-path="url\(#plot\)"><path d="([^"]+)"/.exec(svg)?.[1] ?? '';
    expect(line.split('M').length - 1).toBe(2);
  }
});
