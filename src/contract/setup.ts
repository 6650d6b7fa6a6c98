import { z } from 'zod';
import { type Fault, InputError } from '../core/errors.ts';
import { diameterFaults, distanceFaults } from '../core/plan/check-setup.ts';
import { ADDITIVES, isSalt, type Setup } from '../core/setup.ts';
import { faultsIn } from './faults.ts';

/** A number with a stated range and unit; the unit and range travel into the refusal's words through `describe`. */
export function quantity(unit: string, low: number, high: number, description: string) {
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

export const liquidSchema = z.strictObject({
  acetonitrile_percent: quantity('% v/v', 0, 100, 'acetonitrile by volume before mixing').default(0),
  methanol_percent: quantity('% v/v', 0, 100, 'methanol by volume before mixing').default(0),
  propanol_2_percent: quantity('% v/v', 0, 100, '2-propanol by volume before mixing').default(0),
  additive: z.enum(ADDITIVES).default('none'),
  additive_percent: quantity('% v/v', 0, 5, 'amount of the acid by volume').optional(),
  additive_mM: quantity('mmol/L', 0, 500, 'amount of the salt').optional(),
  other_additives: z
    .array(
      z.strictObject({
        name: z.string().min(1).max(80),
        percent: quantity('% v/v', 0, 99, 'share by volume').optional(),
        mM: quantity('mmol/L', 0, 1000, 'concentration').optional(),
      }),
    )
    .max(10)
    .meta({
      description: 'additives without data here: computed without them, ranges widened, a measurement asked',
    })
    .optional(),
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

/** One of volume_nL or bore_um with length_mm; `relationFaults` checks which. */
const volumeSchema = z.strictObject({
  name: z.string().min(1).max(80),
  kind: z.enum(['mixer', 'tube', 'packed bed', 'emitter']).default('tube'),
  volume_nL: quantity('nL', 0.01, 1e7, 'liquid volume of this piece').optional(),
  bore_um: quantity('µm', 0.5, 5000, 'bore of this piece').optional(),
  length_mm: quantity('mm', 0.01, 20000, 'length of this piece').optional(),
  open_fraction: quantity('', 0.05, 1, 'liquid share of the cross-section').optional(),
  particle_um: quantity('µm', 0.5, 100, 'particle diameter of a packed bed').optional(),
});

const gradientSchema = z.strictObject({
  bottle_A_organic_percent: quantity('% v/v', 0, 100, 'organic share of bottle A').default(0),
  bottle_B_organic_percent: quantity('% v/v', 0, 100, 'organic share of bottle B').default(80),
  organic: z
    .enum(['acetonitrile', 'methanol', '2-propanol'])
    .meta({ description: "the organic solvent of the bottles; absent: the liquid's own, else acetonitrile" })
    .optional(),
  table: z
    .array(
      z.strictObject({
        time_min: quantity('min', 0, 10000, 'time'),
        percent_B: quantity('%', 0, 100, 'share of B'),
      }),
    )
    .min(2)
    .max(200),
  volumes: z
    .array(volumeSchema)
    .min(1)
    .max(20)
    .meta({ description: 'what the liquid passes from the mixing point of the pump to the tip, in order' })
    .optional(),
  elution: z
    .strictObject({
      start_min: quantity('min', 0, 10000, 'start of the elution at the tip'),
      end_min: quantity('min', 0, 10000, 'end of the elution at the tip'),
    })
    .optional(),
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

/** Validates a parsed YAML or JSON document; throws one InputError that names every fault. */
export function setupFrom(document: unknown): Setup {
  const result = setupSchema.safeParse(document);
  const faults: Fault[] = result.success ? [] : faultsIn(result.error, document, 'setup');
  if (result.success) {
    const setup = withOrganic(result.data);
    faults.push(...relationFaults(setup));
    if (faults.length === 0) return setup;
  }
  throw new InputError(faults);
}

/** A gradient that names no organic solvent runs with the liquid's own, the most of it; without any with acetonitrile. */
function withOrganic({ gradient, ...setup }: z.infer<typeof setupSchema>): Setup {
  if (gradient === undefined) return setup;
  const { acetonitrile_percent, methanol_percent, propanol_2_percent } = setup.liquid;
  const own =
    propanol_2_percent > Math.max(acetonitrile_percent, methanol_percent)
      ? '2-propanol'
      : methanol_percent > acetonitrile_percent
        ? 'methanol'
        : 'acetonitrile';
  return { ...setup, gradient: { ...gradient, organic: gradient.organic ?? own } };
}

/** Rules that span several values, checked once each value alone is sound. */
function relationFaults(setup: Setup): Fault[] {
  const { emitter, liquid, voltage, gradient } = setup;
  const faults: Fault[] = diameterFaults(emitter);
  const fault = (kind: Fault['kind'], where: string, found: string, expected: string) =>
    faults.push({ kind, where, found, expected });
  if (emitter.taper_half_angle_deg === 0 && emitter.shank_diameter_um > emitter.rim_um * 1.0001)
    fault(
      'invalid',
      'emitter.taper_half_angle_deg',
      '0 °',
      `above 0 where the shank (${emitter.shank_diameter_um} µm) is wider than the rim (${emitter.rim_um} µm), or equal diameters for a straight tip`,
    );
  const organic = liquid.acetonitrile_percent + liquid.methanol_percent + liquid.propanol_2_percent;
  const others = liquid.other_additives ?? [];
  const all = organic + others.reduce((sum, { percent }) => sum + (percent ?? 0), 0);
  if (organic > 100) fault('out of range', 'liquid', `${organic} % organic in all`, 'at most 100 %');
  else if (all > 100) fault('out of range', 'liquid', `${all} % in all`, 'at most 100 %');
  others.forEach(({ name, percent, mM }, i) => {
    if (percent === undefined && mM === undefined)
      fault('missing', `liquid.other_additives.${i}`, '', `the amount of ${name}: percent or mM`);
  });
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
  faults.push(...distanceFaults(setup));
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
  faults.push(...gradientFaults(setup));
  return faults;
}

/** Each volume given once, and an elution that runs forward. */
function gradientFaults(setup: Setup): Fault[] {
  const faults: Fault[] = [];
  setup.gradient?.volumes?.forEach((piece, i) => {
    const where = `gradient.volumes.${i}`;
    const { bore_um, length_mm, volume_nL } = piece;
    const sized = bore_um !== undefined && length_mm !== undefined;
    if (volume_nL === undefined && !sized)
      faults.push({ kind: 'missing', where, found: '', expected: 'volume_nL, or bore_um and length_mm' });
    if (volume_nL !== undefined && (bore_um !== undefined || length_mm !== undefined) && !sized)
      faults.push({
        kind: 'missing',
        where: `${where}.${bore_um === undefined ? 'bore_um' : 'length_mm'}`,
        found: '',
        expected: 'both bore_um and length_mm, or neither beside volume_nL',
      });
    if (piece.particle_um !== undefined && piece.kind !== 'packed bed')
      faults.push({
        kind: 'invalid',
        where: `${where}.particle_um`,
        found: `${piece.particle_um} µm`,
        expected: `no particles in a piece of kind ${piece.kind}`,
      });
    if (piece.kind === 'packed bed' && sized && volume_nL === undefined && piece.open_fraction === undefined)
      faults.push({
        kind: 'missing',
        where: `${where}.open_fraction`,
        found: '',
        expected: 'the liquid share of a packed bed, about 0.6 to 0.8',
      });
  });
  const elution = setup.gradient?.elution;
  if (elution && elution.end_min <= elution.start_min)
    faults.push({
      kind: 'out of range',
      where: 'gradient.elution.end_min',
      found: `${elution.end_min} min`,
      expected: `later than ${elution.start_min} min`,
    });
  return faults;
}
