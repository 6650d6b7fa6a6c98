import { expect, it } from 'vitest';
import { pageWords } from './page-words.ts';

it('names the field of the page instead of an option of the command line', () => {
  expect(pageWords('until your own steady reading (--steady_nA) stands behind it')).toBe(
    'until your own steady reading (“Your own steady reading”) stands behind it',
  );
  expect(pageWords('another --time-column, or --rate in samples per second')).toBe(
    'another “Column of the time”, or “Samples per second” in samples per second',
  );
  expect(pageWords('--window makes windows shorter.')).toBe('--window makes windows shorter.');
});
