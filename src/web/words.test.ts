import { describe, expect, it } from 'vitest';
import { bytesText, count, figure, given, keyParts } from './words.ts';

describe('words', () => {
  it('writes three significant figures with thin thousands', () => {
    expect(figure(1234.56)).toBe('1\u202f230');
    expect(figure(0.012345)).toBe('0.0123');
    expect(figure(99.96)).toBe('100');
    expect(figure(-5)).toBe('−5.00');
    expect(figure(0)).toBe('0');
    expect(figure(2.5e-6)).toBe('2.50\u202f×\u202f10⁻⁶');
    expect(figure(null)).toBe('not known');
    expect(given(0.6)).toBe('0.6');
    expect(given(3)).toBe('3');
    expect(given(300)).toBe('300');
    expect(count(100736)).toBe('100\u202f736');
  });
  it('splits a key into name and unit', () => {
    expect(keyParts('onset_V')).toEqual({ name: 'onset', unit: 'V' });
    expect(keyParts('minimum_flow_nL_min')).toEqual({ name: 'minimum flow', unit: 'nL/min' });
    expect(keyParts('verdict')).toEqual({ name: 'verdict', unit: '' });
  });
  it('writes sizes', () => {
    expect(bytesText(7788921)).toBe('7.8 MB');
    expect(bytesText(12)).toBe('12 bytes');
  });
});
