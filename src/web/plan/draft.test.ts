import { describe, expect, it } from 'vitest';
import { setupFrom } from '../../contract/index.ts';
import {
  typedNumber,
  valueAt,
  withAdditive,
  withContact,
  withFeed,
  withGradient,
  withValue,
} from './draft.ts';
import { exampleSetup } from './example-setup.ts';

describe('draft', () => {
  it('starts from an example the contract accepts', () => {
    expect(setupFrom(exampleSetup).name).toBe('an invented example');
  });
  it('sets and removes without touching the original', () => {
    const next = withValue(exampleSetup, 'emitter.bore_um', 5);
    expect(valueAt(next, 'emitter.bore_um')).toBe(5);
    expect(valueAt(exampleSetup, 'emitter.bore_um')).toBe(10);
    expect(valueAt(withValue(next, 'name', undefined), 'name')).toBeUndefined();
    expect(valueAt(withValue(next, 'voltage.column.0.length_mm', 9), 'voltage.column.0.length_mm')).toBe(9);
  });
  it('keeps every choice acceptable', () => {
    const choices = [
      ...['none', 'formic acid', 'ammonium acetate'].map((name) => withAdditive(exampleSetup, name)),
      withAdditive(withAdditive(exampleSetup, 'ammonium formate'), 'acetic acid'),
      withContact(exampleSetup, 'tip'),
      withContact(withContact(exampleSetup, 'tip'), 'liquid junction'),
      withFeed(exampleSetup, 'static'),
      withGradient(exampleSetup, true),
    ];
    for (const choice of choices) expect(() => setupFrom(choice)).not.toThrow();
  });
  it('reads numbers as they are typed', () => {
    expect(typedNumber(' 1,5 ')).toBe(1.5);
    expect(typedNumber('−2')).toBe(-2);
    expect(typedNumber('')).toBeUndefined();
    expect(typedNumber('12 µm')).toBe('12 µm');
  });
});
