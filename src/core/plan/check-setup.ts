/**
 * What a set-up must satisfy before anything is computed of it, for callers who bring their own object instead of a document: numbers that
 * are numbers, lengths that an emitter can have, a rim around its bore, room for the meniscus. Ends as in the set-up document.
 */
import { type Fault, InputError } from '../errors.ts';
import { contactDiameter_um, type EmitterSpec, type Setup } from '../setup.ts';

/** Nearer than so many radii of the contact line the meniscus would reach the inlet. */
const LEAST_RADII = 3;

type Row = [where: string, value: number | undefined, low: number, high: number, unit: string];

/** Throws one InputError with every fault. */
export function checkSetup(setup: Setup): void {
  const faults = rowsOf(setup).flatMap(numberFaults);
  if (faults.length === 0) faults.push(...diameterFaults(setup.emitter), ...distanceFaults(setup));
  if (faults.length > 0) throw new InputError(faults);
}

function rowsOf({ emitter, feed, inlet, voltage }: Setup): Row[] {
  return [
    ['emitter.bore_um', emitter.bore_um, 0.1, 1000, 'µm'],
    ['emitter.rim_um', emitter.rim_um, 0.2, 3000, 'µm'],
    ['emitter.taper_half_angle_deg', emitter.taper_half_angle_deg, 0, 45, '°'],
    ['emitter.shank_diameter_um', emitter.shank_diameter_um, 0.2, 5000, 'µm'],
    ['emitter.free_length_mm', emitter.free_length_mm, 0.1, 200, 'mm'],
    feed.kind === 'pumped'
      ? ['feed.flow_nL_min', feed.flow_nL_min, 0.1, 100000, 'nL/min']
      : ['feed.back_pressure_mbar', feed.back_pressure_mbar, 0, 5000, 'mbar'],
    ['inlet.distance_mm', inlet.distance_mm, 0.05, 50, 'mm'],
    ['inlet.lateral_offset_mm', inlet.lateral_offset_mm, -20, 20, 'mm'],
    ['inlet.angle_deg', inlet.angle_deg, 0, 90, '°'],
    ['inlet.potential_V', inlet.potential_V, -5000, 5000, 'V'],
    ['voltage.supply_V', voltage.supply_V, 0, 8000, 'V'],
    ...voltage.column.flatMap(({ bore_um, length_mm, open_fraction }, k): Row[] => [
      [`voltage.column.${k}.bore_um`, bore_um, 0.5, 5000, 'µm'],
      [`voltage.column.${k}.length_mm`, length_mm, 0.01, 5000, 'mm'],
      [`voltage.column.${k}.open_fraction`, open_fraction, 0.05, 1, ''],
    ]),
  ];
}

function numberFaults([where, value, low, high, unit]: Row): Fault[] {
  if (value === undefined) return [];
  if (Number.isNaN(value))
    return [
      { kind: 'invalid', where, found: 'NaN', expected: `a number${unit === '' ? '' : ` in ${unit}`}` },
    ];
  if (value >= low && value <= high) return [];
  return [
    {
      kind: 'out of range',
      where,
      found: `${value} ${unit}`.trim(),
      expected: `${low} to ${high} ${unit}`.trim(),
    },
  ];
}

/** Diameters that lie inside one another: bore, rim, shank. */
export function diameterFaults({ bore_um, rim_um, shank_diameter_um }: EmitterSpec): Fault[] {
  return [
    ...atLeast(rim_um, bore_um, 'emitter.rim_um', `at least the bore, ${bore_um} µm`),
    ...atLeast(shank_diameter_um, rim_um, 'emitter.shank_diameter_um', `at least the rim, ${rim_um} µm`),
  ];
}

function atLeast(value_um: number, least_um: number, where: string, expected: string): Fault[] {
  return value_um >= least_um ? [] : [{ kind: 'out of range', where, found: `${value_um} µm`, expected }];
}

/** Room for the meniscus before the inlet. */
export function distanceFaults({ emitter, inlet }: Setup): Fault[] {
  const least_mm = LEAST_RADII * (contactDiameter_um(emitter) / 2000);
  if (inlet.distance_mm >= least_mm) return [];
  return [
    {
      kind: 'out of range',
      where: 'inlet.distance_mm',
      found: `${inlet.distance_mm} mm`,
      expected: `at least three radii of the contact line, ${least_mm.toPrecision(3)} mm`,
    },
  ];
}
