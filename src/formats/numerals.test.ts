import { expect, it } from 'vitest';
import { decimal, duration_s, wholeNumber } from './numerals.ts';

it('takes plain decimal numbers only', () => {
  expect(['1', ' 2.5 ', '-3.', '.5', '1e3', '1.7E-05', '+4'].map(decimal)).toEqual([
    1, 2.5, -3, 0.5, 1e3, 1.7e-5, 4,
  ]);
  for (const text of ['', ' ', '24,04', 'NaN', 'INF', 'Infinity', '0x10', '1 s', '1e999', '--1', '.'])
    expect(decimal(text)).toBeNaN();
});

it('takes whole numbers only', () => {
  expect(wholeNumber('12')).toBe(12);
  for (const text of ['', '-1', '1.0', '1e3', '99999999999']) expect(wholeNumber(text)).toBeNaN();
});

it('turns durations into seconds', () => {
  expect(
    ['PT434.072S', 'PT7M14.5S', 'PT1H61S', 'P1DT1S', '-PT2S', 'PT1.2e-05S', 'PT0S', 'PT-3S'].map(duration_s),
  ).toEqual([434.072, 434.5, 3661, 86_401, -2, 1.2e-5, 0, -3]);
  for (const text of ['', 'P', 'PT', '12', 'PT1,5S', '12S', 'PTS']) expect(duration_s(text)).toBeNaN();
});
