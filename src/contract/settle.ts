/** A settle session as a document: what may move, limits, start, what is read, and each reading as one entry of its log. */
import { z } from 'zod';
import { FAULTS } from '../core/causes/index.ts';
import { type Fault, InputError } from '../core/errors.ts';
import {
  type Advice,
  AXES,
  type Axis,
  EVENTS,
  MATTERS,
  type ProofOutcome,
  READS,
  type SettleProof,
  type SettleReading,
  type SettleReason,
  type SettleSession,
  STATES_SEEN,
} from '../core/settling/index.ts';
import type { Setup } from '../core/setup.ts';
import { faultsIn } from './faults.ts';
import { quantity, setupFrom } from './setup.ts';

const RANGES: Record<Axis, readonly [unit: string, low: number, high: number, words: string]> = {
  voltage_V: ['V', 0, 8000, 'supply voltage, magnitude'],
  distance_mm: ['mm', 0.1, 50, 'tip to inlet along the axis'],
  lateral_x_mm: ['mm', -20, 20, 'tip off the inlet axis, sideways'],
  lateral_y_mm: ['mm', -20, 20, 'tip off the inlet axis, upwards'],
  angle_deg: ['°', 0, 90, 'emitter axis against inlet axis'],
};

const value = (axis: Axis) => quantity(...RANGES[axis]);
const axisSchema = (axis: Axis) =>
  z
    .strictObject({
      low: value(axis),
      high: value(axis),
      step: z.number().positive().max(1000).meta({ description: 'finest step set by hand' }),
      approach: z.enum(['from below', 'from above']).optional(),
    })
    .optional();

const pointSchema = z.strictObject({
  voltage_V: value('voltage_V'),
  distance_mm: value('distance_mm'),
  lateral_x_mm: value('lateral_x_mm').default(0),
  lateral_y_mm: value('lateral_y_mm').default(0),
  angle_deg: value('angle_deg').default(0),
});

const onsetSchema = z.strictObject({
  rows: z
    .array(
      z.strictObject({
        distance_mm: value('distance_mm'),
        onset_V: quantity('V', 1, 10000, 'supply voltage at which the meniscus first ejects'),
      }),
    )
    .min(1)
    .max(50)
    .optional(),
  radius_um: quantity('µm', 0.1, 1000, 'radius of the contact line'),
  surface_tension_mN_m: quantity('mN/m', 5, 120, 'surface tension'),
  sd_ln_radius: quantity('', 0.01, 2, 'spread of ln(effective radius)').optional(),
});

const word = z.string().trim().min(1).max(120);

/** Level, scatter and grade of one run or trace. */
export const readFiguresSchema = z.strictObject({
  file: word,
  reading_id: word.optional(),
  from: z.enum(['run', 'current']),
  level: quantity('', 0, 1e30, 'level of the run, or the mean current in nA'),
  scatter_percent: quantity('%', 0, 1e6, 'relative scatter').optional(),
  grade: word,
  spray: word,
  invented: z.boolean().optional(),
});

/** Why a session is begun: a cause of the catalogue and the reading that showed it. */
export const settleReasonSchema = z.strictObject({
  cause: word,
  probability: quantity('', 0, 1, 'belief in the cause').optional(),
  before: readFiguresSchema.optional(),
});

export const settleProofSchema = z.strictObject({ after: readFiguresSchema, when: z.iso.datetime() });

export const settleSessionSchema = z.strictObject({
  name: z.string().max(200).optional(),
  invented: z.boolean().optional(),
  emitter: word.optional(),
  instrument: word.optional(),
  because: settleReasonSchema.optional(),
  seed: z.number().int().min(0).max(4294967295).default(1),
  polarity: z.enum(['positive', 'negative']).default('positive'),
  start: pointSchema,
  axes: z.strictObject({
    voltage_V: axisSchema('voltage_V'),
    distance_mm: axisSchema('distance_mm'),
    lateral_x_mm: axisSchema('lateral_x_mm'),
    lateral_y_mm: axisSchema('lateral_y_mm'),
    angle_deg: axisSchema('angle_deg'),
  }),
  reads: z.enum(READS).default('typed'),
  ion: z
    .strictObject({
      mz: quantity('', 1, 100000, 'm/z of the ion whose level is read'),
      tolerance_ppm: quantity('ppm', 0.1, 10000, 'tolerance to each side'),
    })
    .optional(),
  matters: z.enum(MATTERS).default('level'),
  supply_limit_V: quantity('V', 1, 10000, 'what the supply can give'),
  discharge_limit_V: quantity('V', 1, 10000, 'never above: a discharge was met or is expected').optional(),
  flow_nL_min: quantity('nL/min', 0.1, 100000, 'flow rate at the tip').optional(),
  onset: onsetSchema.optional(),
  onset_course: z
    .array(
      z.strictObject({
        time_min: quantity('min', 0, 10000, 'since the session began'),
        factor: quantity('', 0.1, 10, 'onset relative to the begin'),
      }),
    )
    .max(500)
    .optional(),
  follow_gradient: z
    .boolean()
    .meta({ description: "the session runs along the set-up's gradient: its onset is fed forward" })
    .optional(),
  /** The set-up document, whole; checked by its own schema. */
  setup: z.unknown().optional(),
});

export const settleReadingSchema = z.strictObject({
  time_s: quantity('s', 0, 1e7, 'since the session began'),
  at: pointSchema,
  level: quantity('', 0, 1e30, 'level in one unit throughout, 0 for no signal'),
  scatter_percent: quantity('%', 0, 1000, 'relative scatter of this reading').optional(),
  noise_percent: quantity('%', 0, 1000, 'how well the level itself is known').optional(),
  seen: z.array(z.enum(STATES_SEEN)).max(STATES_SEEN.length).optional(),
  event: z.enum(EVENTS).optional(),
  current_nA: quantity('nA', 0.1, 1e6, 'mean spray current').optional(),
  note: z.string().max(1000).optional(),
});

export interface SettleDocument {
  session: SettleSession;
  setup?: Setup;
  followGradient: boolean;
}

/** Validates a parsed YAML or JSON document; throws one InputError that names every fault. */
export function settleSessionFrom(document: unknown): SettleDocument {
  const result = settleSessionSchema.safeParse(document);
  const faults: Fault[] = result.success
    ? relationFaults(result.data)
    : faultsIn(result.error, document, 'settle-session');
  if (!result.success || faults.length > 0) throw new InputError(faults);
  const { setup, follow_gradient, ...rest } = result.data;
  return {
    session: { ...rest, readings: [] },
    ...(setup === undefined ? {} : { setup: setupFrom(setup) }),
    followGradient: follow_gradient ?? false,
  };
}

/** One reading against its session: an axis that does not move stands where it stood. */
export function settleReadingFrom(document: unknown): SettleReading {
  const result = settleReadingSchema.safeParse(document);
  if (result.success) return result.data;
  throw new InputError(faultsIn(result.error, document, 'settle-reading'));
}

/** The cause must stand in the catalogue. */
export function settleReasonFrom(document: unknown): SettleReason {
  const result = settleReasonSchema.safeParse(document);
  const faults = result.success
    ? causeFaults(result.data.cause)
    : faultsIn(result.error, document, 'settle-session');
  if (!result.success || faults.length > 0) throw new InputError(faults);
  return result.data;
}

export function settleProofFrom(document: unknown): SettleProof {
  const result = settleProofSchema.safeParse(document);
  if (result.success) return result.data;
  throw new InputError(faultsIn(result.error, document, 'settle-proof'));
}

function relationFaults(session: z.infer<typeof settleSessionSchema>): Fault[] {
  const faults: Fault[] = [];
  const moving = AXES.filter((axis) => session.axes[axis] !== undefined);
  if (moving.length === 0)
    faults.push({ kind: 'missing', where: 'axes', found: '', expected: `one of ${AXES.join(', ')}` });
  for (const axis of moving) {
    const { low, high, step } = session.axes[axis]!;
    const unit = RANGES[axis][0];
    if (!(low < high))
      faults.push({
        kind: 'out of range',
        where: `axes.${axis}.high`,
        found: `${high} ${unit}`,
        expected: `above the low end, ${low} ${unit}`,
      });
    else if (step > high - low)
      faults.push({
        kind: 'out of range',
        where: `axes.${axis}.step`,
        found: `${step} ${unit}`,
        expected: `at most ${high - low} ${unit}`,
      });
    const start = session.start[axis];
    if (start < low || start > high)
      faults.push({
        kind: 'out of range',
        where: `start.${axis}`,
        found: `${start} ${unit}`,
        expected: `from ${low} to ${high} ${unit}, as axes.${axis} says`,
      });
  }
  const most = Math.min(session.supply_limit_V, session.discharge_limit_V ?? Number.POSITIVE_INFINITY);
  if (session.start.voltage_V > most)
    faults.push({
      kind: 'out of range',
      where: 'start.voltage_V',
      found: `${session.start.voltage_V} V`,
      expected: `at most ${most} V, the supply's or the discharge limit`,
    });
  const rows = session.onset?.rows ?? [];
  if (rows.some((row, k) => k > 0 && row.distance_mm <= rows[k - 1]!.distance_mm))
    faults.push({
      kind: 'invalid',
      where: 'onset.rows',
      found: 'distances that fall',
      expected: 'rising distances',
    });
  if (session.because !== undefined) faults.push(...causeFaults(session.because.cause));
  const course = session.onset_course ?? [];
  if (course.some((row, k) => k > 0 && row.time_min <= course[k - 1]!.time_min))
    faults.push({
      kind: 'invalid',
      where: 'onset_course',
      found: 'times that fall',
      expected: 'rising times',
    });
  return faults;
}

function causeFaults(cause: string): Fault[] {
  if (FAULTS.some(({ id }) => id === cause)) return [];
  const expected = 'the id of a cause in the catalogue, such as offset-drift';
  return [{ kind: 'unknown', where: 'because.cause', found: cause.slice(0, 60), expected }];
}

/** One session in the list of a bench. */
export interface SettleListed {
  id: string;
  name: string;
  readings: number;
  /** ISO 8601, UTC. */
  last: string;
  invented: boolean;
}

/** A session with the advice that its log gives. */
export interface SettleOpen {
  id: string;
  session: SettleSession;
  advice: Advice;
  warnings: string[];
  /** Why it was begun, and each reading that proves it, in words. */
  because: string | null;
  proofs: { outcome: ProofOutcome; sentence: string; reading_id: string | null }[];
}

/** Level and scatter of a reading, read from a run or a current trace. */
export interface LevelRead {
  level: number;
  scatter_percent?: number;
  /** MS1 scans that could hold the ion, and those that did; where one ion was asked for. */
  scans?: number;
  seen?: number;
}

/** What a new session can be filled with, each value with where it comes from. */
export interface SettleStart {
  name: string;
  emitter: string | null;
  instrument: string | null;
  invented: boolean;
  polarity: 'positive' | 'negative' | null;
  at: Partial<Record<Axis, number>>;
  flow_nL_min: number | null;
  setup: Setup | null;
  because: SettleReason | null;
  because_words: string | null;
  from: string[];
}
