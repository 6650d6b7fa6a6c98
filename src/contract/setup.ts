import { z } from 'zod';
import { type Fault, InputError } from '../core/errors.ts';
import { ADDITIVES, isSalt, type Setup } from '../core/setup.ts';

/** A number with a stated range and unit; the unit and range travel into the refusal's words through `describe`. */
function quantity(unit: string, low: number, high: number, description: string) {
  return z
    .number()
    .min(low)
    .max(high)
    .meta({ unit, description: `${description} [${unit}], ${low} to ${high}` });
}

const emitterSchema = z.strictObject({
  bore_um: quantity('µm', 0.1, 1000, 'inner diameter at the tip'),
  rim_um: quantity('µm', 0.2, 3000, 'outer diameter at the tip'),
  taper_half_angle_deg: quantity('°', 0, 45, 'half-angle of the outer taper, 0 for a straight tip').default(
    8,
  ),
  shank_diameter_um: quantity('µm', 1, 5000, 'outer diameter behind the taper').default(360),
  free_length_mm: quantity('mm', 0.1, 200, 'emitter length that stands free of its holder').default(10),
  material: z.string().min(1).max(80).default('fused silica'),
  inside: z.enum(['widens', 'constant', 'unknown']).default('unknown').meta({
    description:
      'the bore behind the tip: widens with the outside (pulled), constant (etched, straight), or unknown',
  }),
  wets: z
    .enum(['bore', 'rim', 'shank'])
    .default('rim')
    .meta({ description: 'where the contact line sits: bore, rim or shank' }),
});

const liquidSchema = z.strictObject({
  acetonitrile_percent: quantity('% v/v', 0, 100, 'acetonitrile by volume before mixing').default(0),
  methanol_percent: quantity('% v/v', 0, 100, 'methanol by volume before mixing').default(0),
  propanol_2_percent: quantity('% v/v', 0, 100, '2-propanol by volume before mixing').default(0),
  additive: z.enum(ADDITIVES).default('none'),
  additive_percent: quantity('% v/v', 0, 5, 'amount of the acid by volume').optional(),
  additive_mM: quantity('mmol/L', 0, 500, 'amount of the salt').optional(),
  temperature_C: quantity('°C', 5, 60, 'temperature of the liquid').default(25),
  conductivity_S_m: quantity('S/m', 1e-7, 10, 'measured conductivity, wins over the model').optional(),
  surface_tension_mN_m: quantity('mN/m', 5, 120, 'measured surface tension, wins over the model').optional(),
});

const feedSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('pumped'),
    flow_nL_min: quantity('nL/min', 0.1, 100000, 'flow rate at the tip'),
  }),
  z.strictObject({
    kind: z.literal('static'),
    back_pressure_mbar: quantity('mbar', 0, 5000, 'gas pressure on the liquid'),
  }),
]);

const inletSchema = z.strictObject({
  distance_mm: quantity('mm', 0.05, 50, 'tip to inlet along the axis'),
  lateral_offset_mm: quantity('mm', -20, 20, 'tip off the inlet axis').default(0),
  angle_deg: quantity('°', 0, 90, 'emitter axis against inlet axis').default(0),
  bore_mm: quantity('mm', 0.05, 10, 'inlet bore').default(0.5),
  potential_V: quantity('V', -5000, 5000, 'potential of the inlet').default(0),
});

const voltageSchema = z.strictObject({
  supply_V: quantity('V', 0, 8000, 'magnitude of the supply voltage against ground').optional(),
  contact: z.enum(['tip', 'liquid junction']).default('tip'),
  column: z
    .array(
      z.strictObject({
        bore_um: quantity('µm', 0.5, 5000, 'bore of this piece'),
        length_mm: quantity('mm', 0.01, 5000, 'length of this piece'),
        open_fraction: quantity('', 0.05, 1, 'liquid share of the cross-section, 1 for an open tube').default(
          1,
        ),
      }),
    )
    .max(20)
    .default([]),
});

const gradientSchema = z.strictObject({
  bottle_A_organic_percent: quantity('% v/v', 0, 100, 'organic share of bottle A').default(0),
  bottle_B_organic_percent: quantity('% v/v', 0, 100, 'organic share of bottle B').default(80),
  organic: z.enum(['acetonitrile', 'methanol', '2-propanol']).default('acetonitrile'),
  table: z
    .array(
      z.strictObject({
        time_min: quantity('min', 0, 10000, 'time'),
        percent_B: quantity('%', 0, 100, 'share of B'),
      }),
    )
    .min(2)
    .max(200),
});

export const setupSchema = z.strictObject({
  name: z.string().max(200).optional(),
  emitter: emitterSchema,
  liquid: liquidSchema,
  feed: feedSchema,
  polarity: z.enum(['positive', 'negative']).default('positive'),
  room: z
    .strictObject({
      temperature_C: quantity('°C', 5, 45, 'room temperature').optional(),
      humidity_percent: quantity('%', 0, 100, 'relative humidity').optional(),
    })
    .optional(),
  inlet: inletSchema,
  voltage: voltageSchema.prefault({}),
  gradient: gradientSchema.optional(),
});

/** JSON Schema (draft 2020-12) of the set-up document, as a person writes it. */
export function setupJsonSchema(): object {
  return z.toJSONSchema(setupSchema, { io: 'input' });
}

/** Validates a parsed YAML or JSON document; throws one InputError that names every fault. */
export function setupFrom(document: unknown): Setup {
  const result = setupSchema.safeParse(document);
  const faults: Fault[] = result.success
    ? []
    : result.error.issues.flatMap((issue) => faultsOf(issue, document));
  if (result.success) {
    faults.push(...relationFaults(result.data));
    if (faults.length === 0) return result.data;
  }
  throw new InputError(faults);
}

/** Rules that span several values, checked once each value alone is sound. */
function relationFaults(setup: Setup): Fault[] {
  const faults: Fault[] = [];
  const { emitter, liquid, voltage, gradient, inlet } = setup;
  const fault = (kind: Fault['kind'], where: string, found: string, expected: string) =>
    faults.push({ kind, where, found, expected });
  if (emitter.rim_um < emitter.bore_um)
    fault(
      'out of range',
      'emitter.rim_um',
      `${emitter.rim_um} µm`,
      `at least the bore, ${emitter.bore_um} µm`,
    );
  if (emitter.shank_diameter_um < emitter.rim_um)
    fault(
      'out of range',
      'emitter.shank_diameter_um',
      `${emitter.shank_diameter_um} µm`,
      `at least the rim, ${emitter.rim_um} µm`,
    );
  if (emitter.taper_half_angle_deg === 0 && emitter.shank_diameter_um > emitter.rim_um * 1.0001)
    fault(
      'invalid',
      'emitter.taper_half_angle_deg',
      '0 °',
      `above 0 where the shank (${emitter.shank_diameter_um} µm) is wider than the rim (${emitter.rim_um} µm), or equal diameters for a straight tip`,
    );
  const organic = liquid.acetonitrile_percent + liquid.methanol_percent + liquid.propanol_2_percent;
  if (organic > 100) fault('out of range', 'liquid', `${organic} % organic in all`, 'at most 100 %');
  const salt = isSalt(liquid.additive);
  if (liquid.additive !== 'none' && salt && liquid.additive_mM === undefined)
    fault('missing', 'liquid.additive_mM', '', `the amount of ${liquid.additive} in mmol/L`);
  if (liquid.additive !== 'none' && !salt && liquid.additive_percent === undefined)
    fault('missing', 'liquid.additive_percent', '', `the amount of ${liquid.additive} in % v/v`);
  if (liquid.additive_mM !== undefined && !salt)
    fault(
      'invalid',
      'liquid.additive_mM',
      `${liquid.additive_mM} mmol/L`,
      `no additive_mM beside ${liquid.additive}`,
    );
  if (liquid.additive_percent !== undefined && (salt || liquid.additive === 'none'))
    fault(
      'invalid',
      'liquid.additive_percent',
      `${liquid.additive_percent} %`,
      `no additive_percent beside ${liquid.additive}`,
    );
  if (voltage.contact === 'liquid junction' && voltage.column.length === 0)
    fault(
      'missing',
      'voltage.column',
      '',
      'the pieces of liquid between contact and tip (bore_um, length_mm)',
    );
  if (voltage.contact === 'tip' && voltage.column.length > 0)
    fault(
      'invalid',
      'voltage.column',
      `${voltage.column.length} pieces`,
      'none where the contact is at the tip',
    );
  const contactRadius_mm = contactDiameter_um(setup) / 2000;
  if (inlet.distance_mm < 3 * contactRadius_mm)
    fault(
      'out of range',
      'inlet.distance_mm',
      `${inlet.distance_mm} mm`,
      `at least three radii of the contact line, ${(3 * contactRadius_mm).toPrecision(3)} mm`,
    );
  gradient?.table.forEach((row, i) => {
    const before = gradient.table[i - 1];
    if (before && row.time_min <= before.time_min)
      fault(
        'out of range',
        `gradient.table.${i}.time_min`,
        `${row.time_min} min`,
        `later than ${before.time_min} min`,
      );
  });
  return faults;
}

function contactDiameter_um(setup: Setup): number {
  const { bore_um, rim_um, shank_diameter_um, wets } = setup.emitter;
  return wets === 'bore' ? bore_um : wets === 'rim' ? rim_um : shank_diameter_um;
}

type Issue = z.core.$ZodIssue;

function faultsOf(issue: Issue, document: unknown): Fault[] {
  const where = issue.path.join('.') || 'set-up';
  const value = valueAt(document, issue.path);
  const unit = unitOf(where);
  const shown = (v: unknown) => shownValue(v, unit);
  switch (issue.code) {
    case 'too_small':
    case 'too_big': {
      const bound = issue.code === 'too_small' ? `at least ${issue.minimum}` : `at most ${issue.maximum}`;
      const magnitude = where === 'voltage.supply_V' && issue.code === 'too_small';
      const what = issue.origin === 'number' ? unit : issue.origin === 'array' ? 'entries' : 'characters';
      return [
        {
          kind: 'out of range',
          where,
          found: shown(value),
          expected: `${bound} ${what}${magnitude ? ', a magnitude: polarity gives the sign' : ''}`.trim(),
        },
      ];
    }
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        kind: 'unknown' as const,
        where: where === 'set-up' ? key : `${where}.${key}`,
        found: shown(valueAt(document, [...issue.path, key])),
        expected: 'a name that `steadycone schema setup` lists',
      }));
    case 'invalid_value':
      if (value === undefined)
        return [{ kind: 'missing', where, found: '', expected: `one of ${issue.values.join(', ')}` }];
      return [{ kind: 'invalid', where, found: shown(value), expected: `one of ${issue.values.join(', ')}` }];
    case 'invalid_union':
      return [
        value === undefined || (issue.path.at(-1) === 'kind' && value === undefined)
          ? { kind: 'missing', where, found: '', expected: 'pumped or static' }
          : {
              kind: 'invalid',
              where,
              found: shown(value),
              expected: 'pumped (with flow_nL_min) or static (with back_pressure_mbar)',
            },
      ];
    case 'invalid_type': {
      const expected =
        issue.expected === 'number'
          ? `a number${unit ? ` in ${unit}` : ''}`
          : issue.expected === 'object'
            ? 'a group of values'
            : issue.expected === 'string'
              ? 'text'
              : issue.expected === 'array'
                ? 'a list'
                : `${issue.expected}`;
      if (value === undefined) return [{ kind: 'missing', where, found: '', expected }];
      return [
        { kind: 'invalid', where, found: typeof value === 'number' ? String(value) : shown(value), expected },
      ];
    }
    default:
      return [{ kind: 'invalid', where, found: shown(value), expected: issue.message }];
  }
}

/** A value as the person wrote it, cut short; a group or list only by its kind where it cannot be written (an alias to itself). */
function shownValue(value: unknown, unit: string): string {
  if (value === undefined) return '';
  if (typeof value === 'number') return `${value} ${unit}`.trim();
  try {
    return (JSON.stringify(value) ?? String(value)).slice(0, SHOWN_MOST);
  } catch {
    return Array.isArray(value) ? 'a list that holds itself' : 'a group that holds itself';
  }
}
const SHOWN_MOST = 120;

function valueAt(document: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = document;
  for (const key of path) {
    if (value === null || typeof value !== 'object') return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/** The unit a name carries: `bore_um` → µm. */
function unitOf(path: string): string {
  const name = path.split('.').at(-1) ?? '';
  const units: [RegExp, string][] = [
    [/_um$/, 'µm'],
    [/_mm$/, 'mm'],
    [/_deg$/, '°'],
    [/_percent$|^percent_B$/, '%'],
    [/_mM$/, 'mmol/L'],
    [/_C$/, '°C'],
    [/_S_m$/, 'S/m'],
    [/_mN_m$/, 'mN/m'],
    [/_nL_min$/, 'nL/min'],
    [/_mbar$/, 'mbar'],
    [/_V$/, 'V'],
    [/_min$/, 'min'],
  ];
  return units.find(([pattern]) => pattern.test(name))?.[1] ?? '';
}
