/** The result of a session as a document, one page of text and one page of HTML: working point, window, margins, what was seen. */
import { GATE_STEPS, LOCAL_RULES } from '../causes/gates.ts';
import { escaped } from '../picture.ts';
import { type Observation, REGIMES_SEEN, type RegimeSeen } from '../window/index.ts';
import { notAbove_V } from './limits.ts';
import { figure, nextMove, pointWords, valueWords } from './next-move.ts';
import { isUnsteady } from './objective.ts';
import { AXIS_WORDS } from './recommend.ts';
import type { Advice, Margin, SettleReading, SettleSession, StateSeen } from './session.ts';
import { proofWords, reasonWords } from './story.ts';

export interface HandOver {
  name: string;
  invented: boolean;
  advice: Advice;
  readings: number;
  minutes: number;
  learned: number;
  events: number;
  changes: boolean;
  /** The best steady reading. */
  best_read?: SettleReading;
  /** Voltages seen steady and not, at any distance. */
  steady_from_V?: number;
  steady_to_V?: number;
  /** Rows for the plan's calibration. */
  observations: Observation[];
}

const MOST_ROWS = 50;
const STEADY_PERCENT = 10;
const REGIME_OF: Record<StateSeen, RegimeSeen> = {
  'no spray': 'no spray',
  dripping: 'dripping',
  unstable: 'pulsating',
  tilted: 'tilted',
  'several jets': 'several jets',
  discharge: 'discharge',
};

export function handOver(session: SettleSession, advice: Advice = nextMove(session)): HandOver {
  const { readings } = session;
  const steady = readings.filter((r, k) => advice.taken[k] !== 'event' && r.level > 0 && !isUnsteady(r));
  const volts = steady.map(({ at }) => at.voltage_V);
  const best_read = steady.toSorted((a, b) => b.level - a.level)[0];
  return {
    name: session.name ?? 'Settle session',
    invented: session.invented ?? false,
    advice,
    readings: readings.length,
    minutes: Math.round((readings.at(-1)?.time_s ?? 0) / 60),
    learned: advice.taken.filter((t) => t === 'learned' || t === 'after a change').length,
    events: advice.taken.filter((t) => t === 'event').length,
    changes: advice.taken.includes('after a change'),
    ...(best_read === undefined ? {} : { best_read }),
    ...(volts.length === 0 ? {} : { steady_from_V: Math.min(...volts), steady_to_V: Math.max(...volts) }),
    observations: observationRows(session, advice),
  };
}

/** Regimes a person named, and the steady readings; a scatter alone names no regime. */
function observationRows({ readings, start }: SettleSession, advice: Advice): Observation[] {
  // The same voltage read again is the same emitter again, not new evidence: the last of like rows stands.
  const rows = new Map<string, Observation>();
  for (const [k, reading] of readings.entries()) {
    if (advice.taken[k] === 'event' || advice.taken[k] === 'doubted') continue;
    const states = reading.seen ?? [];
    const worst = REGIMES_SEEN.findLast((regime) => states.some((s) => REGIME_OF[s] === regime));
    const calm =
      states.length === 0 && reading.level > 0 && (reading.scatter_percent ?? 100) <= STEADY_PERCENT;
    if (worst === undefined && !calm) continue;
    const before = readings[k - 1]?.at.voltage_V;
    const now = reading.at.voltage_V;
    const row: Observation = {
      supply_V: now,
      seen: worst ?? 'steady',
      ...(before === undefined || before === now ? {} : { direction: now > before ? 'up' : 'down' }),
      ...(worst === undefined && reading.current_nA !== undefined ? { current_nA: reading.current_nA } : {}),
      ...(reading.at.distance_mm === start.distance_mm ? {} : { distance_mm: reading.at.distance_mm }),
    };
    const { current_nA: _, ...rest } = row;
    const like = JSON.stringify(rest);
    rows.delete(like);
    rows.set(like, row);
  }
  return [...rows.values()].slice(-MOST_ROWS);
}

/** The `--observe` document of `steadycone plan`, as YAML. */
export function observationsYaml(observations: readonly Observation[]): string {
  if (observations.length === 0)
    return '# No regime was named and no reading was steady: nothing to calibrate by.\n';
  const rows = observations.map((row) => {
    const parts = Object.entries(row).map(([key, value]) => `${key}: ${value}`);
    return `  - { ${parts.join(', ')} }`;
  });
  return `observations:\n${rows.join('\n')}\n`;
}

interface Section {
  title: string;
  lines: string[];
}

function sectionsOf(session: SettleSession, over: HandOver): Section[] {
  const { advice } = over;
  const { best } = advice;
  const point: string[] = [];
  if (best === undefined) point.push('No reading yet.');
  else {
    point.push(pointWords(session, best.at));
    point.push(
      `Expected level ${best.level.toPrecision(3)} (one standard deviation: a factor of ${best.level_factor.toFixed(2)}). Within 5 % of the best that may be reached: ${percent(best.chance_within_5_percent)}. Steady: ${percent(best.chance_steady)}.`,
    );
    point.push(best.flatness);
    point.push(
      `${advice.kind === 'done' ? 'The search is done' : 'The search is not done'}: ${advice.sentence}`,
    );
  }
  if (session.emitter !== undefined || session.instrument !== undefined)
    point.push(
      `Emitter: ${session.emitter ?? 'not named'}. Instrument: ${session.instrument ?? 'not named'}.`,
    );
  const window: string[] = (best?.margins ?? []).map((margin) => marginWords(margin));
  if (over.steady_from_V !== undefined)
    window.push(
      `Read steady from ${figure(over.steady_from_V)} to ${figure(over.steady_to_V!)} V (at whatever position stood then).`,
    );
  window.push(
    `Not above ${figure(notAbove_V(session))} V; raise in steps of 50 V. A standing spray holds about a tenth lower than where it formed: come to the point from above or raise again if it was lost.`,
  );
  const how: string[] = [
    `${over.readings} readings in ${over.minutes} min, ${over.learned} learned from, ${over.events} left out as sudden events${over.changes ? '; the level changed for good on the way (look for a clog)' : ''}.`,
    `The advice rests on ${advice.rests_on}. What matters: ${session.matters}${session.ion === undefined ? '' : ` of m/z ${session.ion.mz} ± ${figure(session.ion.tolerance_ppm)} ppm`}. Seed ${session.seed}: the log gives the same advice again.`,
  ];
  if (over.best_read !== undefined)
    how.push(
      `Best steady reading: ${over.best_read.level.toPrecision(3)}${over.best_read.scatter_percent === undefined ? '' : `, scatter ${figure(over.best_read.scatter_percent)} %`} at ${pointWords(session, over.best_read.at)}${over.best_read.current_nA === undefined ? '' : `, ${figure(over.best_read.current_nA)} nA`}.`,
    );
  for (const { note, at } of session.readings)
    if (note !== undefined) how.push(`Note at ${valueWords('voltage_V', at.voltage_V)}: ${note}`);
  return [
    { title: 'Working point', lines: point },
    ...(session.because === undefined ? [] : [{ title: 'Why', lines: [reasonWords(session.because)] }]),
    { title: 'The reading that proves it', lines: proofLines(session) },
    { title: 'Window and margins', lines: window },
    { title: 'How it was found', lines: how },
    {
      title: 'If it dies',
      lines: [
        'Lower the voltage first. Then `steadycone explain` with what you see; read again at the working point before anything is moved.',
        'Still open, write down: flow and pressure, liquid, injections on this tip, is the high voltage on now, is the inlet hot, until when does the queue run.',
      ],
    },
    {
      title: 'Before a hand goes in',
      lines: [...GATE_STEPS['hands off power'], ...GATE_STEPS.raise, LOCAL_RULES],
    },
  ];
}

function proofLines({ because, proofs = [] }: SettleSession): string[] {
  if (proofs.length === 0)
    return [
      'None yet: read a run or a trace at the working point. Until then this is an expectation, not a result.',
    ];
  return proofs.map(
    (proof) => `${proof.when.slice(0, 16).replace('T', ' ')} UTC. ${proofWords(because?.before, proof)}`,
  );
}

export function handOverText(session: SettleSession, over: HandOver = handOver(session)): string {
  const lines = [titleOf(over)];
  for (const { title, lines: body } of sectionsOf(session, over))
    lines.push('', title, ...body.map((l) => `  ${l}`));
  lines.push(
    '',
    "For the plan's calibration (steadycone plan SETUP --observe FILE)",
    observationsYaml(over.observations).trimEnd(),
  );
  return lines.join('\n');
}

export function handOverHtml(session: SettleSession, over: HandOver = handOver(session)): string {
  const sections = sectionsOf(session, over).map(
    ({ title, lines }) =>
      `<h2>${escaped(title)}</h2>\n${lines.map((l) => `<p>${escaped(l)}</p>`).join('\n')}`,
  );
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(titleOf(over))}</title><style>${STYLE}</style></head><body>
<h1>${escaped(titleOf(over))}</h1>
${sections.join('\n')}
<h2>For the plan's calibration</h2><pre>${escaped(observationsYaml(over.observations))}</pre>
</body></html>
`;
}

function titleOf({ name, invented }: HandOver): string {
  return `Hand-over: ${name}${invented && !name.includes('invented') ? ' (invented, no measurement)' : ''}`;
}

export function marginWords({ axis, down, up, unit, down_ends, up_ends }: Margin): string {
  const { name } = AXIS_WORDS[axis];
  return `${name}: ${down} ${unit} down (${down_ends}), ${up} ${unit} up (${up_ends})`;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

const STYLE =
  ':root{color-scheme:light dark}body{font:17px/1.45 system-ui,sans-serif;max-width:44rem;margin:1rem auto;padding:0 1rem}' +
  'h1{font-size:1.5rem}h2{font-size:1.1rem;margin:1.2rem 0 .3rem;border-top:2px solid}p{margin:.25rem 0}pre{white-space:pre-wrap;border:1px solid;padding:.5rem}' +
  '@page{size:A4;margin:12mm}@media print{body{font-size:9pt;line-height:1.25;max-width:none;margin:0;padding:0}h1{font-size:14pt;margin:0}' +
  'h2{font-size:10pt;margin:.35rem 0 .1rem;border-top-width:1px}p{margin:.1rem 0}pre{font-size:8pt;margin:0;padding:.2rem;columns:2}}';
