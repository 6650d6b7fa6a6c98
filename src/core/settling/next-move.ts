/** The advice in words: one sentence with the step and its reason, what is asked before a raise, and what holds where the hand would be. */
import { LOCAL_RULES } from '../causes/gates.ts';
import { advise, type Decision } from './advise.ts';
import type { Ledger } from './ledger.ts';
import { AXIS_WORDS, recommendation } from './recommend.ts';
import {
  type Advice,
  AXES,
  type Axis,
  type Change,
  costOf,
  POSITION_AXES,
  type SettlePoint,
  type SettleSession,
} from './session.ts';

/** A pure function of the session: the same log gives the same advice. Throws nothing for a valid session. */
export function nextMove(session: SettleSession, before?: Ledger): Advice {
  return adviceOf(session, advise(session, { before }));
}

export function adviceOf(session: SettleSession, decision: Decision): Advice {
  const { kind, to, current, gain, noise, ledger } = decision;
  const first = session.readings.length === 0;
  const changes = first ? [] : changesBetween(current, to);
  const raise = first || raisesField(decision);
  const reason = reasonOf(decision);
  const step = stepWords(session, kind, changes, to);
  const strongest = ledger.belief.modes[0]?.mode.family.name ?? 'physics with the offset prior';
  return {
    kind,
    to,
    changes,
    sentence: `${step}: ${reason}.`,
    reason: `${upper(reason)}.`,
    asks_for_yes: raise && kind !== 'done' && kind !== 'look' && (first || changes.length > 0),
    ...(raise && kind !== 'done' && kind !== 'look' && (first || changes.length > 0)
      ? { question: HANDS_CLEAR }
      : {}),
    cautions: cautionsOf(session, decision, changes, raise),
    cost_s: costOf(current, to),
    ...(first ? {} : { best: recommendation(session, decision) }),
    expected_gain_percent: 100 * Math.expm1(Math.min(GAIN_SHOWN, gain)),
    noise_percent: 100 * noise,
    rests_on: strongest,
    taken: ledger.taken.map((t, k) => (ledger.stragglers.includes(k) ? 'doubted' : t)),
  };
}

export const HANDS_CLEAR = 'Hands clear of the source?';
/** A larger expected gain is only said to be large. */
const GAIN_SHOWN = Math.log(10);

function gainWords(gain: number): string {
  if (gain >= GAIN_SHOWN) return 'more than ten times as much';
  if (gain >= Math.log(2)) return `about ${Math.round(Math.exp(gain))} times as much`;
  return `about ${Math.max(1, Math.round(100 * Math.expm1(gain)))} % more`;
}

function changesBetween(from: SettlePoint, to: SettlePoint): Change[] {
  return AXES.filter((axis) => Math.abs(from[axis] - to[axis]) > 1e-9).map((axis) => ({
    axis,
    from: from[axis],
    to: to[axis],
  }));
}

/** More voltage, or the same closer to the inlet. */
function raisesField({ current, to, law }: Decision): boolean {
  const ratio = (p: SettlePoint) => Math.log(Math.max(1, p.voltage_V)) - law.base(p.distance_mm, 0);
  return to.voltage_V > current.voltage_V || ratio(to) > ratio(current) + 1e-9;
}

function stepWords(
  session: SettleSession,
  kind: Advice['kind'],
  changes: readonly Change[],
  to: SettlePoint,
): string {
  if (kind === 'first reading')
    return `Set ${pointWords(session, to)}, raising the voltage in steps, and read`;
  if (kind === 'done') return 'Stay here';
  if (kind === 'look') return 'Stop and look at the tip';
  if (changes.length === 0) return 'Read again here';
  const volts = changes.find(({ axis }) => axis === 'voltage_V');
  const moves = changes
    .filter(({ axis }) => axis !== 'voltage_V')
    .map((change) => moveWords(session, change));
  const parts =
    volts === undefined
      ? moves
      : volts.to < volts.from
        ? [voltWords(session, volts), ...moves]
        : [...moves, voltWords(session, volts)];
  return upper(`${parts.join(', then ')}, and read`);
}

function voltWords(session: SettleSession, { from, to }: Change): string {
  const by = Math.abs(to - from);
  if (to < from) return `lower the voltage by ${figure(by)} V to ${figure(to)} V`;
  const step = raiseStep(session);
  const walked = by > step ? ` in steps of ${figure(step)} V, 5 to 10 s each` : '';
  return `raise the voltage by ${figure(by)} V to ${figure(to)} V${walked}`;
}

/** 50 V per step when tuning (common practice, no source), or the person's own if coarser. */
function raiseStep({ axes }: SettleSession): number {
  return Math.max(50, axes.voltage_V?.step ?? 50);
}

function moveWords(session: SettleSession, { axis, from, to }: Change): string {
  const approach = session.axes[axis]?.approach ?? 'from below';
  const against = approach === 'from below' ? to < from : to > from;
  const side = approach === 'from below' ? 'smaller' : 'larger';
  const beyond = against ? ` (go past it and come back from the ${side} side, for the play)` : '';
  if (axis === 'distance_mm')
    return `move the tip ${Math.abs(to - from).toFixed(2)} mm ${to > from ? 'away from' : 'closer to'} the inlet, to ${figure(to)} mm${beyond}`;
  const unit = axis === 'angle_deg' ? '°' : ' mm';
  return `set ${AXIS_WORDS[axis].name} from ${figure(from)} to ${figure(to)}${unit}${beyond}`;
}

/** `axes`: a key for each axis that moves. */
export function pointWords({ axes }: { axes: Partial<Record<Axis, unknown>> }, point: SettlePoint): string {
  const shown = AXES.filter(
    (axis) => axis === 'voltage_V' || axis === 'distance_mm' || axes[axis] !== undefined,
  );
  return shown.map((axis) => valueWords(axis, point[axis])).join(', ');
}

export function valueWords(axis: Axis, value: number): string {
  switch (axis) {
    case 'voltage_V':
      return `${figure(value)} V`;
    case 'distance_mm':
      return `${figure(value)} mm to the inlet`;
    case 'lateral_x_mm':
      return `x ${figure(value)} mm`;
    case 'lateral_y_mm':
      return `y ${figure(value)} mm`;
    case 'angle_deg':
      return `${figure(value)}°`;
  }
}

function reasonOf(decision: Decision): string {
  const { why, gain, noise, ledger } = decision;
  const percent = gainWords(gain);
  switch (why) {
    case 'start':
      return 'this is where the session begins';
    case 'discharge':
      return 'a discharge was met or a limit lies below: the voltage goes down first, and never comes near it again';
    case 'doubt':
      return 'the last reading is far under what was foretold; a second one tells a bubble or an arc from a real change';
    case 'doubt at the best':
      return 'it is low here twice; the best place tells whether the tip itself has changed (a clog, say) or only this place is poor';
    case 'many changes':
      return 'the level has fallen for good more than once, which no knob mends: a clog, a wetted rim or a leak are likely';
    case 'remeasure':
      return 'the recommended point has not been read lately, and it must hold when it is read again';
    case 'gain under the noise':
      return `another reading is expected to gain ${Math.max(0.1, 100 * gain).toFixed(1)} %, under the ${Math.round(100 * noise)} % noise of one reading`;
    case 'try to prove it wrong':
      return 'little more is expected, so this reading tries to prove it wrong: a second ridge, another side or a skewed optimum would show here';
    case 'explore':
      return 'nothing was read near there yet';
    case 'better':
      return `the readings put the best there (${percent} on average)`;
    case 'tells most': {
      const known = ledger.belief.modes[0]?.mode.family.name ?? '';
      const what =
        known === 'readings alone'
          ? 'the readings alone'
          : 'the readings, placed on the window above the onset,';
      return `${what} expect ${percent} there on average, the most for its time`;
    }
  }
}

function cautionsOf(
  session: SettleSession,
  { kind, why, to, limits }: Decision,
  changes: readonly Change[],
  raise: boolean,
): string[] {
  const cautions: string[] = [];
  if (why === 'discharge')
    cautions.push(
      'Noise, light or smell of ozone: voltage down at once, then look. Do not go back to where it was.',
    );
  if (raise && kind !== 'done' && kind !== 'look')
    cautions.push(
      `A raise needs a yes from the person at the source. Stop at noise, light, smell of ozone or a current that runs away: lower first, then look. Not above ${figure(Math.floor(limits.most_V(to.distance_mm)))} V at ${figure(to.distance_mm)} mm.`,
    );
  else if (changes.some(({ axis }) => axis === 'voltage_V')) cautions.push('Lowering is always allowed.');
  if (changes.some(({ axis }) => POSITION_AXES.includes(axis)))
    cautions.push(
      'Turn the stage from outside the closed source. If a hand must go in: voltage off, read back 0 V, wait, ground the contact, then move; the inlet is hot and the tip is sharp glass.',
    );
  if (changes.some(({ axis, from, to: end }) => axis === 'distance_mm' && end < from))
    cautions.push('Closer to the inlet a discharge comes earlier: watch the tip, never touch the inlet.');
  if (kind === 'look')
    cautions.push(
      'Look through the window or with the camera. Before a touch: voltage off, read back 0 V, wait, ground the contact; flow off and pressure released before a fitting is opened. Never wipe a bead with the voltage on.',
    );
  if (session.polarity === 'negative' && raise)
    cautions.push('Negative polarity: a discharge comes earlier, most of all in water.');
  cautions.push(LOCAL_RULES);
  return cautions;
}

export function figure(value: number): string {
  return String(Number(value.toFixed(2)));
}

function upper(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
