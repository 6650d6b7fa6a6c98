import { expect, test } from 'vitest';
import { limitsSentence } from './detection-limits.ts';

test('the limits name what could be shown with its size, and what could not, each only where it holds', () => {
  const all = { sag_10s: 0.3, sag_60s: 0.12, dropout_one_scan: 0.5, ripple: 0.08 };
  expect(limitsSentence('background ions', all, 384)).toBe(
    'The least this run could show by its background ions: a sag of 30 % for 10 s, a sag of 12 % for 60 s, a single scan lower by 50 % and a ripple of 8.0 % over 384 scans.',
  );
  const some = { ...all, sag_60s: null, ripple: null };
  expect(limitsSentence('matched peaks', some, 0)).toBe(
    'The least this run could show by its matched peaks: a sag of 30 % for 10 s and a single scan lower by 50 %; no sag of 60 s and no ripple could be shown.',
  );
  const none = { sag_10s: null, sag_60s: null, dropout_one_scan: null, ripple: null };
  expect(limitsSentence('matched peaks', none, 0)).toBe(
    'No sag of 10 s or 60 s, no single low scan and no ripple could be shown by the matched peaks of this run.',
  );
  expect(limitsSentence('matched peaks', { ...none, ripple: 0.2 }, 90)).toBe(
    'The least this run could show by its matched peaks: a ripple of 20 % over 90 scans; no sag of 10 s or 60 s and no single low scan could be shown.',
  );
});
