import { writeFile } from 'node:fs/promises';
import { Command } from 'commander';
import {
  addReading,
  levelFromRun,
  levelFromTrace,
  loadSettleDocument,
  loadSetupFile,
  newSettleLog,
  openSettleLog,
  type SettleLog,
} from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import {
  type Advice,
  AXES,
  type Axis,
  EVENTS,
  handOver,
  handOverHtml,
  handOverText,
  marginWords,
  nextMove,
  observationsYaml,
  pointWords,
  type SettlePoint,
  type SettleReading,
  STATES_SEEN,
} from '../core/settling/index.ts';

interface AddOptions {
  level?: string;
  scatter?: string;
  run?: string;
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

export function settleCommand(): Command {
  const root = new Command('settle').description(
    'the next voltage and position to try on one emitter, reading by reading; a person turns every knob',
  );
  root.addCommand(newCommand());
  root.addCommand(nextCommand());
  root.addCommand(addCommand());
  root.addCommand(reportCommand());
  return root;
}

function newCommand(): Command {
  return new Command('new')
    .description('begin a session: what may move, limits, start')
    .argument('<log>', 'file of the session, made new; readings are appended to it')
    .requiredOption('--session <file>', 'session document, YAML or JSON (examples/settle-harbour.yaml)')
    .option(
      '--setup <file>',
      'set-up document: the onset over distance and the discharge limit come from its plan',
    )
    .option('--json', 'the first advice as JSON')
    .action(async (path: string, options: { session: string; setup?: string; json?: true }) => {
      const document = await loadSettleDocument(options.session);
      if (options.setup !== undefined) document.setup = await loadSetupFile(options.setup);
      printAdvice(await newSettleLog(path, document), options.json);
    });
}

function nextCommand(): Command {
  return new Command('next')
    .description('the next step, why, and what to mind')
    .argument('<log>', 'file of the session')
    .option('--json', 'the advice as JSON')
    .action(async (path: string, options: { json?: true }) => {
      printAdvice(await openSettleLog(path), options.json);
    });
}

function addCommand(): Command {
  return new Command('add')
    .description('add a reading, kept at once, and give the next step')
    .argument('<log>', 'file of the session')
    .option('--level <number>', 'level, in one unit throughout; 0 for no signal')
    .option('--scatter <%>', 'relative scatter of this reading')
    .option('--run <file>', 'level and scatter from a run file instead')
    .option('--trace <file>', 'level and scatter from a text trace instead, its last column')
    .option('--at <V=..,z=..,x=..,y=..,angle=..>', 'where it was read, if not where the advice said')
    .option('--seen <state>', `what was seen: ${STATES_SEEN.join(', ')}; as often as needed`, collect, [])
    .option('--event <what>', `something sudden happened: ${EVENTS.join(', ')}; not learned from`)
    .option('--current <nA>', 'mean spray current')
    .option('--note <words>', 'anything to hand over')
    .option('--time <s>', 'seconds since the session began, if not now')
    .option('--json', 'the next advice as JSON')
    .action(async (path: string, options: AddOptions) => {
      const log = await openSettleLog(path);
      await addReading(path, await readingOf(log, options));
      printAdvice(await openSettleLog(path), options.json);
    });
}

function reportCommand(): Command {
  return new Command('report')
    .description('one page to hand over: working point, window, margins, and rows for `plan --observe`')
    .argument('<log>', 'file of the session')
    .option('--html <file>', 'the page as one HTML file')
    .option('--observe <file>', "the rows for the plan's calibration as a file")
    .option('--json', 'everything as JSON')
    .action(async (path: string, options: { html?: string; observe?: string; json?: true }) => {
      const { session, warnings } = await openSettleLog(path);
      sayAll(warnings);
      const over = handOver(session);
      if (options.html !== undefined) await written(options.html, handOverHtml(session, over));
      if (options.observe !== undefined) await written(options.observe, observationsYaml(over.observations));
      print(options.json ? JSON.stringify({ session, ...over }, null, 2) : handOverText(session, over));
    });
}

async function readingOf({ session, began }: SettleLog, options: AddOptions): Promise<SettleReading> {
  const at =
    options.at === undefined
      ? nextMove(session).to
      : pointOf(options.at, session.readings.at(-1)?.at ?? session.start);
  const measured =
    options.run !== undefined
      ? await levelFromRun(options.run)
      : options.trace !== undefined
        ? await levelFromTrace(options.trace)
        : undefined;
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
    ...(options.seen.length === 0 ? {} : { seen: options.seen.map((s) => oneOf(s, STATES_SEEN, '--seen')) }),
    ...(options.event === undefined ? {} : { event: oneOf(options.event, EVENTS, '--event') }),
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

function oneOf<T extends string>(text: string, known: readonly T[], where: string): T {
  const found = known.find((one) => one === text);
  if (found === undefined) throw inputError('unknown', where, text, `one of ${known.join(', ')}`);
  return found;
}

function numberOf(text: string | undefined, where: string): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value))
    throw inputError('invalid', where, text, 'a number with a decimal point');
  return value;
}

function printAdvice({ session, warnings }: SettleLog, json: true | undefined): void {
  sayAll(warnings);
  const advice = nextMove(session);
  print(json ? JSON.stringify(advice, null, 2) : adviceText(session, advice).join('\n'));
}

function adviceText(session: SettleLog['session'], advice: Advice): string[] {
  const lines = [advice.sentence];
  if (advice.question !== undefined) lines.push(`  Ask first: ${advice.question}`);
  for (const caution of advice.cautions) lines.push(`  ${caution}`);
  const { best } = advice;
  if (best === undefined) return lines;
  lines.push(
    '',
    `Best so far: ${pointWords(session, best.at)}; level ${best.level.toPrecision(3)}; within 5 % of the best: ${Math.round(100 * best.chance_within_5_percent)} %; steady: ${Math.round(100 * best.chance_steady)} %.`,
    best.flatness,
    ...best.margins.map((margin) => `  ${marginWords(margin)}`),
    `Rests on ${advice.rests_on}; ${session.readings.length} readings, ${advice.taken.filter((t) => t === 'event').length} of them events. This step takes about ${advice.cost_s} s.`,
  );
  return lines;
}

async function written(path: string, text: string): Promise<void> {
  await writeFile(path, text).catch((error: NodeJS.ErrnoException) => {
    throw inputError(
      'invalid',
      'output file',
      `${path} (${error.code ?? 'unknown'})`,
      'a file you may write',
    );
  });
  process.stderr.write(`steadycone: wrote ${path}\n`);
}

function sayAll(warnings: readonly string[]): void {
  for (const warning of warnings) process.stderr.write(`steadycone: ${warning}\n`);
}

function print(text: string): void {
  process.stdout.write(`${text}\n`);
}
