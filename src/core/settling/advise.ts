/**
 * The next step as a decision, without words: what to do, where, what it should gain, and what the readings are taken for. The
 * voltage never rises by more than a few steps at once, never above a limit; after a discharge it only goes down.
 */
import { chanceWithin, type Standing } from './chance.ts';
import { edgesOf, unsteadyLoss } from './edges.ts';
import type { FamilyName } from './family.ts';
import { type Ledger, ledgerOf, samePlace } from './ledger.ts';
import { limitsOf } from './limits.ts';
import { noiseOf } from './objective.ts';
import { onsetLaw } from './onset-law.ts';
import { fanProbe, farthest, pendingProbe } from './probes.ts';
import { search } from './search.ts';
import type { AdviceKind, SettlePoint, SettleSession } from './session.ts';

export interface Decision extends Standing {
  kind: AdviceKind;
  why:
    | 'start'
    | 'discharge'
    | 'doubt'
    | 'doubt at the best'
    | 'remeasure'
    | 'better'
    | 'tells most'
    | 'try to prove it wrong'
    | 'explore'
    | 'gain under the noise'
    | 'many changes';
  to: SettlePoint;
  current: SettlePoint;
  /** Expected gain of the step and noise of one reading, in the logarithm. */
  gain: number;
  noise: number;
  /** `chanceWithin` of this decision, where it was asked for on the way. */
  chance?: number | undefined;
}

/** The most a single advice raises the voltage [V]; it is walked in the person's steps. Judgement. */
export const MOST_RAISE_V = 300;
/** The recommended point is read again after this many readings elsewhere. */
export const REMEASURE_EVERY = 6;
/** Done when the expected gain is under this share of one reading's noise, with the recommended point read this often. */
const DONE_SHARE = 0.4;
const DONE_READINGS = 2;
/** Below this stated chance readings about the recommended point look for a second patch before an end. Judgement. */
const SURE_ENOUGH = 0.8;
/** The same where the physics with the offset prior holds less belief than this. Judgement. */
const FITS_ENOUGH = 0.5;
const OFFSET_FAMILY: FamilyName = 'physics with the offset prior';
/** No end is called earlier. */
const LEAST_READINGS = 6;
/** Searching on past the end, every so many readings go where none has been. */
const EXPLORE_EVERY = 2;
/** After a discharge the voltage goes down by this share at least. */
const AFTER_DISCHARGE = 0.9;
/** Lasting changes after which a person should look instead of tuning on. */
const MANY_CHANGES = 2;

/**
 * `before` may be the ledger of the same session with its last readings missing: saves time, changes nothing. `onwards` never ends the
 * search, for benchmarks.
 */
export function advise(
  session: SettleSession,
  { before, onwards = false }: { before?: Ledger | undefined; onwards?: boolean } = {},
): Decision {
  const law = onsetLaw(session);
  const ledger = ledgerOf(session, law, before);
  const limits = limitsOf(session, law);
  const { belief, taken, doubted, changes } = ledger;
  const edges = edgesOf(session, belief, taken);
  const { readings } = session;
  const last = readings.at(-1);
  const current = last?.at ?? session.start;
  const noise = usualNoise(session);
  const base = { current, noise, ledger, law, limits, edges };
  if (last === undefined) {
    const to = limits.allowed(session.start);
    return { ...base, kind: 'first reading', why: 'start', to, best: to, gain: 0 };
  }
  const found = search(session, belief, limits, current, noise, (point) => unsteadyLoss(edges, point));
  const { best, gain } = found;
  const rest = { ...base, best, gain };
  if (last.seen?.includes('discharge')) {
    const voltage_V = Math.min(limits.most_V(current.distance_mm), AFTER_DISCHARGE * current.voltage_V);
    return { ...rest, kind: 'lower', why: 'discharge', to: limits.allowed({ ...current, voltage_V }) };
  }
  // A limit that came later than the point one stands on (a discharge met, a limit set): down first.
  const most = limits.most_V(current.distance_mm);
  if (current.voltage_V > most)
    return { ...rest, kind: 'lower', why: 'discharge', to: limits.allowed({ ...current, voltage_V: most }) };
  if (doubted.length === 1) return { ...rest, kind: 'read again', why: 'doubt', to: current };
  if (doubted.length > 1) return { ...rest, ...goTo(current, best), why: 'doubt at the best' };
  const lastChange = changes.at(-1);
  if (lastChange !== undefined && changes.length >= MANY_CHANGES && lastChange >= readings.length - 3)
    return { ...rest, kind: 'look', why: 'many changes', to: current };
  const used = [...taken.keys()].filter((k) => taken[k] !== 'event' && taken[k] !== 'doubted');
  const readHere = used.filter((k) => samePlace(readings[k]!.at, best)).length;
  const nearEnough = used.filter((k) => isNear(session, readings[k]!.at, best)).length;
  const places = used.map((k) => readings[k]!.at);
  const quiet = gain < DONE_SHARE * noise && readings.length >= LEAST_READINGS;
  const lastHere = used.filter((k) => isNear(session, readings[k]!.at, best)).at(-1) ?? -1;
  const elsewhere = readings.length - 1 - lastHere;
  if (readings.length >= REMEASURE_EVERY && elsewhere >= REMEASURE_EVERY)
    return { ...rest, ...goTo(current, best), why: 'remeasure' };
  if (quiet) {
    const probe = pendingProbe(session, belief, limits, best, places);
    if (probe !== undefined) return { ...rest, ...goTo(current, probe), why: 'try to prove it wrong' };
    if (!onwards) {
      const fits = belief.modes.reduce(
        (sum, m) => sum + (m.mode.family.name === OFFSET_FAMILY ? m.weight : 0),
        0,
      );
      const fan = fanProbe(session, belief, limits, best, places);
      const chance = fan === undefined || fits < FITS_ENOUGH ? undefined : chanceWithin(session, rest);
      const asked = { ...rest, chance };
      if (fan !== undefined && (chance === undefined || chance < SURE_ENOUGH))
        return { ...asked, ...goTo(current, fan), why: 'try to prove it wrong' };
      const enough = readHere > 0 && nearEnough >= DONE_READINGS;
      if (enough && samePlace(current, best))
        return { ...asked, kind: 'done', why: 'gain under the noise', to: best };
      if (elsewhere > 0 || !samePlace(current, best))
        return { ...asked, ...goTo(current, best), why: 'remeasure' };
      return { ...asked, kind: 'read again', why: 'remeasure', to: best };
    }
    if (readings.length % EXPLORE_EVERY === 0)
      return { ...rest, ...goTo(current, farthest(session, belief, limits, best, places)), why: 'explore' };
  }
  const to = found.next;
  return { ...rest, ...goTo(current, to), why: samePlace(to, best) ? 'better' : 'tells most' };

  function goTo(from: SettlePoint, target: SettlePoint): { kind: AdviceKind; to: SettlePoint } {
    const voltage_V = Math.min(target.voltage_V, from.voltage_V + MOST_RAISE_V);
    const to = limits.allowed({ ...target, voltage_V });
    return { kind: samePlace(from, to) ? 'read again' : 'move', to };
  }
}

/** Within two of the person's steps, or 20 V and 0.1 mm, on every axis. */
function isNear(session: SettleSession, a: SettlePoint, b: SettlePoint): boolean {
  return Object.entries(session.axes).every(([name, { step }]) => {
    const axis = name as keyof SettlePoint;
    const usual = axis === 'voltage_V' ? 20 : axis === 'angle_deg' ? 2 : 0.1;
    return Math.abs(a[axis] - b[axis]) <= Math.max(2 * step, usual) + 1e-9;
  });
}

/** Middle noise of the steadier half of the readings. */
function usualNoise({ readings }: SettleSession): number {
  const sorted = readings.map(noiseOf).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 4)] ?? 0.08;
}
