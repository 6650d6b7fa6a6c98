import { expect, test } from 'vitest';
import { outermost } from './flicker-events.ts';

test('a stretch within a longer one of no lower confidence is the same flicker; a surer one inside stays', () => {
  const at = (start_s: number, end_s: number, confidence: number) => ({ start_s, end_s, confidence });
  const long = at(0, 300, 0.4);
  expect(outermost([at(50, 100, 0.4), long, at(120, 200, 0.4)])).toEqual([long]);
  expect(outermost([long, at(50, 100, 0.65)])).toHaveLength(2);
  expect(outermost([long, at(250, 350, 0.4)])).toHaveLength(2);
  expect(outermost([long, { ...long }])).toHaveLength(1);
  expect(outermost([])).toEqual([]);
});
