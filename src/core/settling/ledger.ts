/**
 * How each reading is taken, decided in the order of the log: learned from, an event (bubble, arc) that is not, doubted until the
 * next reading tells, or after a lasting change (clog) with a level of its own. A reading far under what was foretold is doubted;
 * re-read at the same place and higher again: an event; low again there and at the best place: a lasting change; low
 * there but as foretold elsewhere: real. Thresholds are judgement.
 */
import { type Belief, believe, momentsOf, seen } from './belief.ts';
import type { Datum } from './fit.ts';
import { noiseOf, type Worth, worthsOf } from './objective.ts';
import type { OnsetLaw } from './onset-law.ts';
import { placeOf } from './physics-mean.ts';
import {
  AXES,
  type ReadingTaken,
  type SettlePoint,
  type SettleReading,
  type SettleSession,
} from './session.ts';
import { stragglers } from './stragglers.ts';

export interface Ledger {
  taken: ReadingTaken[];
  /** Indices of doubted readings that wait for the next one. */
  doubted: number[];
  /** First readings of lasting changes. */
  changes: number[];
  /** Readings that the physics without the offset prior foretold better. */
  againstOffset: number;
  /** Earlier readings taken for events seen too late, as things stand now. */
  stragglers: number[];
  belief: Belief;
}

/** A reading this many standard deviations and this far (in the logarithm) under the foretold is doubted. */
const DOUBT_SIGMAS = 4.5;
const DOUBT_DROP = 1;
/** A re-reading this much higher shows that the first was an event. */
const BACK_BY = 0.5;
/** Fewer readings foretell nothing. */
const LEAST_READINGS = 6;
/** Six readings against it drop the offset prior. */
export const AGAINST_TO_DROP = 6;
/** How much better a reading must be foretold without the prior to count against it (log likelihood). */
const AGAINST_BY = 0.5;
/** The noise an unsteady reading states is capped here when it is asked whether it fits. */
const MOST_DOUBT_NOISE = 0.3;
/** Far below the best the mean's shape is trusted less, by this share of the depth. */
const DEPTH_NOISE = 0.12;
const DEPTH_FROM = 0.5;

/** `before` may be the ledger of the same session with its last readings missing: saves time, changes nothing. */
export function ledgerOf(session: SettleSession, law: OnsetLaw, before?: Ledger): Ledger {
  let ledger = before ?? {
    taken: [],
    doubted: [],
    changes: [],
    againstOffset: 0,
    stragglers: [],
    belief: beliefAt(session, law, [], [], 0, 0).belief,
  };
  for (let k = ledger.taken.length; k < session.readings.length; k++)
    ledger = withReading(session, law, ledger, k);
  return ledger;
}

function withReading(session: SettleSession, law: OnsetLaw, before: Ledger, k: number): Ledger {
  const readings = session.readings.slice(0, k + 1);
  const reading = readings[k]!;
  const taken = [...before.taken];
  const changes = [...before.changes];
  let doubted = [...before.doubted];
  const accept = (indices: readonly number[]): void => {
    for (const i of indices)
      taken[i] = changes.length > 0 && i >= changes.at(-1)! ? 'after a change' : 'learned';
  };
  if (reading.event !== undefined) {
    taken[k] = 'event';
    if (reading.event === 'clog') changes.push(k + 1);
  } else {
    const worth = worthsOf(session.matters, readings)[k]!;
    const low = doubtful(before, session, worth, reading);
    const first = doubted[0];
    if (first === undefined) {
      if (low) {
        taken[k] = 'doubted';
        doubted = [k];
      } else accept([k]);
    } else if (samePlace(readings[first]!.at, reading.at)) {
      const was = worthsOf(session.matters, readings)[first]!;
      if (worth.y - was.y > BACK_BY && !low) {
        for (const i of doubted) taken[i] = 'event';
        doubted = [];
        accept([k]);
      } else {
        taken[k] = 'doubted';
        doubted.push(k);
      }
    } else if (low) {
      changes.push(first);
      accept([...doubted, k]);
      doubted = [];
    } else {
      if (doubted.length > 1) accept(doubted);
      else taken[first] = 'event';
      doubted = [];
      accept([k]);
    }
  }
  const againstOffset =
    before.againstOffset + Number(isAgainstOffset(before, session, readings, k, taken[k]!));
  const { belief, set } = beliefAt(session, law, readings, taken, changes.length, againstOffset, changes);
  return { taken, doubted, changes, againstOffset, stragglers: set, belief };
}

/** Is this reading far under what the readings before it foretold? Readings that rose are never doubted. */
function doubtful(before: Ledger, session: SettleSession, worth: Worth, reading: SettleReading): boolean {
  if (before.taken.filter((t) => t !== 'event' && t !== 'doubted').length < LEAST_READINGS) return false;
  const { mean, sd } = foretold(before, reading);
  const noise =
    session.matters === 'level' ? Math.min(MOST_DOUBT_NOISE, noiseOf(reading)) : Math.min(worth.sd, 0.4);
  const drop = mean - worth.y;
  return drop > DOUBT_DROP && drop > DOUBT_SIGMAS * Math.hypot(sd, noise, depthNoise(before, mean));
}

function depthNoise({ belief }: Ledger, mean: number): number {
  const data = belief.modes[0]!.mode.data;
  const best = data.reduce((most, { y }) => Math.max(most, y), Number.NEGATIVE_INFINITY);
  return DEPTH_NOISE * Math.max(0, best - mean - DEPTH_FROM) * 2;
}

function foretold(ledger: Ledger, reading: SettleReading): { mean: number; sd: number } {
  const at = { ...ledger.belief, now: reading.time_s / 60 };
  return momentsOf(at, seen(at, reading.at));
}

function isAgainstOffset(
  { belief }: Ledger,
  session: SettleSession,
  readings: readonly SettleReading[],
  k: number,
  taken: ReadingTaken,
): boolean {
  if (taken === 'event' || taken === 'doubted') return false;
  const reading = readings[k]!;
  const { y, sd } = worthsOf(session.matters, readings)[k]!;
  const of = (name: string): number | undefined => {
    const modes = belief.modes.filter(({ mode }) => mode.family.name === name);
    if (modes.length === 0) return undefined;
    const total = modes.reduce((sum, { weight }) => sum + weight, 0);
    const part = {
      ...belief,
      now: reading.time_s / 60,
      modes: modes.map((m) => ({ ...m, weight: m.weight / total })),
    };
    const { mean, sd: spread } = momentsOf(part, seen(part, reading.at));
    const wide = Math.hypot(spread, sd);
    return -0.5 * ((y - mean) / wide) ** 2 - Math.log(wide);
  };
  const [withPrior, without] = [of('physics with the offset prior'), of('physics without the offset prior')];
  if (withPrior === undefined || without === undefined)
    return withPrior === undefined && without !== undefined;
  return without - withPrior > AGAINST_BY;
}

function beliefAt(
  session: SettleSession,
  law: OnsetLaw,
  readings: readonly SettleReading[],
  taken: readonly ReadingTaken[],
  epoch: number,
  againstOffset: number,
  changes: readonly number[] = [],
): { belief: Belief; set: number[] } {
  const worths = worthsOf(session.matters, readings);
  const used = [...taken.keys()].filter((i) => taken[i] !== 'event' && taken[i] !== 'doubted');
  const best = used.reduce((most, i) => Math.max(most, worths[i]!.y), Number.NEGATIVE_INFINITY);
  const data: Datum[] = used.map((i) => {
    const { y, sd } = worths[i]!;
    const depth = DEPTH_NOISE * Math.max(0, best - y - DEPTH_FROM);
    return {
      place: placeOf(law, readings[i]!.at, readings[i]!.time_s / 60),
      y,
      variance: sd * sd + depth * depth,
      epoch: changes.filter((first) => i >= first).length,
    };
  });
  const now = (readings.at(-1)?.time_s ?? 0) / 60;
  const at = { epoch, now, offsetDropped: againstOffset >= AGAINST_TO_DROP };
  const first = believe(session, law, data, at);
  const late = stragglers(first.physics);
  if (late.length === 0) return { belief: first, set: [] };
  const softened = data.map((d, i) =>
    late.includes(i) ? { ...d, variance: d.variance + STRAGGLER_SD ** 2 } : d,
  );
  return { belief: believe(session, law, softened, at), set: late.map((i) => used[i]!) };
}
/** Log noise of a reading taken for an event seen too late. */
const STRAGGLER_SD = 3;

export function samePlace(a: SettlePoint, b: SettlePoint): boolean {
  return AXES.every((axis) => Math.abs(a[axis] - b[axis]) < 1e-6);
}
