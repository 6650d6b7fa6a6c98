/** `settle add`: one reading more, from a number, a run, one ion of it, or a trace. */
import { Command } from 'commander';
import {
  addReading,
  ionFrom,
  levelFromRun,
  levelFromTrace,
  openSettleLog,
  type SettleLog,
} from '../app/index.ts';
import type { LevelRead } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';
import {
  AXES,
  type Axis,
  EVENTS,
  nextMove,
  type SettlePoint,
  type SettleReading,
  STATES_SEEN,
} from '../core/settling/index.ts';
import { numberOf, oneOf } from './flag-values.ts';
import { printAdvice, sayAll } from './settle-words.ts';
import { type ImportFlags, importTold, withImport } from './trace-flags.ts';

interface AddOptions extends ImportFlags {
  level?: string;
  scatter?: string;
  run?: string;
  ion?: string;
  trace?: string;
  at?: string;
  seen: string[];
  event?: string;
  current?: string;
  note?: string;
  time?: string;
  json?: true;
}

const SHORT: Readonly<Record<string, Axis>> = {
  V: 'voltage_V',
  z: 'distance_mm',
  x: 'lateral_x_mm',
  y: 'lateral_y_mm',
  angle: 'angle_deg',
};
const collect = (value: string, before: string[]) => [...before, value];

export function addCommand(): Command {
  const command = new Command('add')
    .description('add a reading, kept at once, and give the next step')
    .argument('<log>', 'file of the session')
    .option('--level <number>', 'level, in one unit throughout; 0 for no signal')
    .option('--scatter <%>', 'relative scatter of this reading')
    .option('--run <file>', 'level and scatter from a run file instead')
    .option('--ion <m/z±tolerance>', "one ion's level of that run, not its whole: 524.26±10ppm")
    .option('--trace <file>', 'level and scatter from a current trace instead; how to read it as in `trace`')
    .option('--at <V=..,z=..,x=..,y=..,angle=..>', 'where it was read, if not where the advice said')
    .option('--seen <state>', `what was seen: ${STATES_SEEN.join(', ')}; as often as needed`, collect, [])
    .option('--event <what>', `something sudden happened: ${EVENTS.join(', ')}; not learned from`)
    .option('--current <nA>', 'mean spray current')
    .option('--note <words>', 'anything to hand over')
    .option('--time <s>', 'seconds since the session began, if not now')
    .option('--json', 'the next advice as JSON');
  return withImport(command).action(async (path: string, options: AddOptions) => {
    const log = await openSettleLog(path);
    await addReading(path, await readingOf(log, options));
    printAdvice(await openSettleLog(path), options.json);
  });
}

async function readingOf({ session, began }: SettleLog, options: AddOptions): Promise<SettleReading> {
  const at =
    options.at === undefined
      ? nextMove(session).to
      : pointOf(options.at, session.readings.at(-1)?.at ?? session.start);
  if (options.ion !== undefined && options.run === undefined)
    throw inputError('missing', '--run', '', 'the run file that holds the ion');
  const ion = options.ion === undefined ? session.ion : ionFrom(options.ion);
  const measured: LevelRead | undefined =
    options.run !== undefined
      ? await levelFromRun(options.run, ion)
      : options.trace !== undefined
        ? await levelFromTrace(options.trace, importTold(options))
        : undefined;
  if (measured?.scans !== undefined)
    sayAll([
      `m/z ${ion?.mz} stands in ${measured.seen} of ${measured.scans} MS1 scans; its middle level is taken.`,
    ]);
  const scatter = numberOf(options.scatter, '--scatter') ?? measured?.scatter_percent;
  const level =
    numberOf(options.level, '--level') ??
    measured?.level ??
    (options.seen.includes('no spray') || options.event !== undefined ? 0 : undefined);
  if (level === undefined)
    throw inputError('missing', '--level', '', 'a level, or --run or --trace with a file to take it from');
  const now = Math.max(session.readings.at(-1)?.time_s ?? 0, (Date.now() - began.getTime()) / 1000);
  const current = numberOf(options.current, '--current');
  return {
    time_s: numberOf(options.time, '--time') ?? Math.round(now),
    at,
    level,
    ...(scatter === undefined ? {} : { scatter_percent: scatter }),
    ...(options.seen.length === 0 ? {} : { seen: options.seen.map((s) => oneOf(s, '--seen', STATES_SEEN)) }),
    ...(options.event === undefined ? {} : { event: oneOf(options.event, '--event', EVENTS) }),
    ...(current === undefined ? {} : { current_nA: current }),
    ...(options.note === undefined ? {} : { note: options.note }),
  };
}

/** `V=1700,z=3.2`: what is not named stands where it stood. */
function pointOf(text: string, from: SettlePoint): SettlePoint {
  const point = { ...from };
  for (const part of text.split(',')) {
    const [name = '', value = ''] = part.split('=').map((s) => s.trim());
    const axis = SHORT[name] ?? AXES.find((a) => a === name);
    const number = Number(value);
    if (axis === undefined)
      throw inputError('unknown', '--at', name, `one of ${Object.keys(SHORT).join(', ')}`);
    if (value === '' || !Number.isFinite(number))
      throw inputError('invalid', '--at', part, 'a number with a decimal point, such as V=1700');
    point[axis] = number;
  }
  return point;
}
