/** Stretches of run time to leave out of a reading, typed in minutes. */
import { inputError } from '../core/errors.ts';
import type { MaskSpan } from './read-one-run.ts';

/** '0-3,55-60' in minutes of run time; nothing is no stretch. */
export function maskFrom(text: string): MaskSpan[] {
  if (text.trim() === '') return [];
  return text.split(',').map((part) => {
    const match = /^\s*(\d+(?:\.\d+)?)\s*[-–]\s*(\d+(?:\.\d+)?)\s*$/.exec(part);
    const [start, end] = [Number(match?.[1]), Number(match?.[2])];
    if (!match || !(end > start))
      throw inputError(
        'invalid',
        'mask',
        part.trim().slice(0, 60),
        'minutes from and to with a point for parts, such as 0-3,55-60',
      );
    return { start_s: start * 60, end_s: end * 60 };
  });
}
