import { type Fault, InputError } from '../errors.ts';
import type { MeniscusInput } from './input.ts';

const STEEPEST_TAPER = 75; // [degrees] beyond it the emitter is a plate
const LONGEST = 1e6; // contact-line radii
/** Nearer than this the meniscus would reach the plane or lie in its capillary force: not an emitter. */
const NEAREST = 3;
const WIDEST_RIM = 1e3;
/** Caps without voltage between these heights: from nearly a hemisphere into the bore to a large pendant drop. */
const LOWEST_CAP = -0.95;
const HIGHEST_CAP = 2;

/** Throws one InputError with every fault of the numbers. */
export function checkInput(input: MeniscusInput): void {
  const faults: Fault[] = [];
  const need = (where: string, value: number, low: number, high: number, unit: string): void => {
    if (!Number.isFinite(value))
      faults.push({ kind: 'invalid', where, found: `${value}`, expected: 'a number' });
    else if (value < low || value > high)
      faults.push({
        kind: 'out of range',
        where,
        found: `${value}`,
        expected: `${low} to ${high} ${unit}`.trim(),
      });
  };
  const radii = 'contact-line radii';
  need('rimRadius', input.rimRadius, 1, WIDEST_RIM, radii);
  need('taperHalfAngle', (input.taperHalfAngle * 180) / Math.PI, 0, STEEPEST_TAPER, 'degrees');
  need('shankRadius', input.shankRadius, input.rimRadius, LONGEST, `${radii} (not smaller than the rim)`);
  need('length', input.length, 1, LONGEST, radii);
  need('distance', input.distance, NEAREST, LONGEST, `${radii} (the meniscus needs room)`);
  if (input.hold.kind === 'pressure')
    need('pressure', input.hold.pressure, -LONGEST, LONGEST, 'surface tension over contact-line radius');
  else
    need(
      'volume',
      input.hold.volume,
      capVolume(LOWEST_CAP),
      capVolume(HIGHEST_CAP),
      'cubed contact-line radii',
    );
  for (const [k, v] of (input.shapesAt ?? []).entries()) need(`shapesAt.${k}`, v, 0, LONGEST, '');
  if (faults.length > 0) throw new InputError(faults);
}

/** Volume of a spherical cap of this height on a contact circle of radius 1. */
export function capVolume(height: number): number {
  return (Math.PI * height * (3 + height * height)) / 6;
}

/** The height whose cap has this volume: the real root of h^3 + 3 h = 6 volume / pi. */
export function capHeight(volume: number): number {
  const half = (3 * volume) / Math.PI;
  return 2 * Math.sinh(Math.asinh(half) / 3);
}
