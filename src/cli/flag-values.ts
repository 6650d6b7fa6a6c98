/** Values of flags out of their text; a flag that was not given stays undefined. */
import { inputError } from '../core/errors.ts';

export function positive(text: string | undefined, name: string, unit: string): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (!(value > 0 && Number.isFinite(value)))
    throw inputError('out of range', name, text, `a number above 0 in ${unit}, with a point for parts`);
  return value;
}

export function oneOf<T extends string>(text: string, name: string, all: readonly T[]): T;
export function oneOf<T extends string>(
  text: string | undefined,
  name: string,
  all: readonly T[],
): T | undefined;
export function oneOf<T extends string>(
  text: string | undefined,
  name: string,
  all: readonly T[],
): T | undefined {
  if (text === undefined) return undefined;
  const found = all.find((one) => one === text);
  if (found === undefined) throw inputError('unknown', name, text, `one of ${all.join(', ')}`);
  return found;
}

export function numberOf(text: string | undefined, where: string): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value))
    throw inputError('invalid', where, text, 'a number with a decimal point');
  return value;
}
