/** `trace FILE`: what a current trace says, as text, JSON, CSV or SVG. */
import { Command } from 'commander';
import {
  currentCsv,
  currentPicture,
  currentReadingText,
  flowPicture,
  flowWalkCsv,
  flowWalkText,
  loadSetupFile,
  observationsYaml,
  type ReadTrace,
  type ReadTraceTask,
  readTrace,
  staircasePicture,
  voltageWalkCsv,
  voltageWalkText,
} from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { type Picture, pictureSvg, stacked } from '../core/picture.ts';
import { oneOf, positive } from './flag-values.ts';
import { checkFree, writeText } from './output-file.ts';
import { progressLine } from './progress.ts';
import { type ImportFlags, importTold, withImport } from './trace-flags.ts';

interface TraceFlags extends ImportFlags {
  setup?: string;
  bandwidth?: string;
  capacitance_pF?: string;
  steady_nA?: string;
  flowOff_nA?: string;
  meter_MOhm?: string;
  series_MOhm?: string;
  walk?: string;
  voltageAt?: string;
  flowWalk?: string;
  observeOut?: string;
  window?: string;
  json?: true;
  csv?: true;
  svg?: string;
  force?: true;
}

const PICTURE_WIDTH = 1100;

export function traceCommand(): Command {
  return withImport(new Command('trace'))
    .description('what a recording of the spray current says: regime along time, events, walks')
    .argument('<file>', 'table (CSV, TSV), WAV, or raw samples with a JSON sidecar')
    .option('--setup <file>', 'set-up document: what current and which pulsation to expect')
    .option('--bandwidth <Hz>', 'analogue bandwidth of the meter')
    .option('--capacitance_pF <number>', 'capacitance across it: with the resistor it gives the bandwidth')
    .option('--steady_nA <number>', 'your own steady reading on this emitter: calibrates what to expect')
    .option('--flow-off_nA <number>', 'current with high voltage on and the flow off')
    .option('--meter_MOhm <number>', 'own resistance of the meter beside the resistor')
    .option(
      '--walk <steps>',
      'voltage walk: CSV with time_s and voltage_V, marks such as 0=1500,10=1600, or channel',
    )
    .option('--voltage-at <place>', 'where the voltages of the walk were measured: supply or tip')
    .option(
      '--series_MOhm <number>',
      'resistor between supply and emitter: its share is taken off the voltages',
    )
    .option(
      '--flow-walk <steps>',
      'flow walk: CSV with flow_nL_min and time_s or current_nA, or marks 0=100,30=200',
    )
    .option('--observe-out <file>', 'write what the walk saw as a document for `plan --observe`')
    .option('--window <s>', 'length of one window (chosen for the rate where not given)')
    .option('--json', 'the whole reading as JSON')
    .option('--csv', 'one row for each window as CSV')
    .option('--svg <file>', 'also draw the trace into this file')
    .option('--force', 'write over files that exist')
    .action(async (path: string, flags: TraceFlags) => {
      if (flags.json && flags.csv) throw inputError('invalid', 'options', '--json with --csv', 'one of them');
      const force = flags.force === true;
      if (flags.observeOut !== undefined && flags.walk === undefined)
        throw inputError('missing', '--walk', '', 'it together with --observe-out');
      await checkFree([flags.svg, flags.observeOut], force);
      const line = progressLine();
      const stop = new AbortController();
      const onStop = () =>
        stop.abort(inputError('invalid', 'reading', 'stopped', 'patience; nothing was kept'));
      process.once('SIGINT', onStop);
      try {
        const trace = await readTrace(path, {
          ...(await taskOf(flags)),
          signal: stop.signal,
          onProgress: (read, total) =>
            line.say(`${path}: ${total > 0 ? Math.floor((100 * read) / total) : 0} %`),
        });
        line.clear();
        if (flags.svg !== undefined) await writeText(flags.svg, pictureSvg(tracePicture(trace)), force);
        if (flags.observeOut !== undefined && trace.walk)
          await writeObservations(trace, flags.observeOut, force);
        process.stdout.write(output(trace, flags));
      } finally {
        line.clear();
        process.removeListener('SIGINT', onStop);
      }
    });
}

async function taskOf(flags: TraceFlags): Promise<ReadTraceTask> {
  const { resistor_MOhm, capacitance_pF } = flags;
  if (capacitance_pF !== undefined && resistor_MOhm === undefined)
    throw inputError('missing', '--resistor_MOhm', '', 'it together with --capacitance_pF');
  return {
    setup: flags.setup === undefined ? undefined : await loadSetupFile(flags.setup),
    ...importTold(flags),
    bandwidth_Hz: positive(flags.bandwidth, '--bandwidth', 'Hz'),
    capacitance_pF: positive(capacitance_pF, '--capacitance_pF', 'pF'),
    steady_nA: positive(flags.steady_nA, '--steady_nA', 'nA'),
    flow_off_nA: positive(flags.flowOff_nA, '--flow-off_nA', 'nA'),
    meter_MOhm: positive(flags.meter_MOhm, '--meter_MOhm', 'MOhm'),
    walk:
      flags.walk === undefined
        ? undefined
        : {
            from: flags.walk,
            voltage_at: oneOf(flags.voltageAt, '--voltage-at', ['supply', 'tip']),
            series_MOhm: positive(flags.series_MOhm, '--series_MOhm', 'MOhm'),
          },
    flow_walk: flags.flowWalk,
    window_s: positive(flags.window, '--window', 'seconds'),
  };
}

async function writeObservations(
  { name, walk, reading }: ReadTrace,
  path: string,
  force: boolean,
): Promise<void> {
  const rows = walk?.observations ?? [];
  if (rows.length === 0)
    throw inputError('missing', 'observations', 'the walk told no state', 'a walk of three steps or more');
  await writeText(path, observationsYaml(rows, name, reading), force);
}

/** The trace with its regimes; below it the walks where they were read. */
function tracePicture({ name, reading, walk, flow_walk, plan }: ReadTrace): Picture {
  const trace = currentPicture(reading, PICTURE_WIDTH, walk);
  if (!walk && !flow_walk) return trace;
  return stacked(name, [
    { heading: '', picture: trace },
    ...(walk ? [{ heading: 'Voltage walk', picture: staircasePicture(walk, PICTURE_WIDTH, plan) }] : []),
    ...(flow_walk ? [{ heading: 'Flow walk', picture: flowPicture(flow_walk, PICTURE_WIDTH) }] : []),
  ]);
}

function output(trace: ReadTrace, flags: TraceFlags): string {
  const { name, reading, walk, flow_walk, resistor } = trace;
  if (flags.json)
    return `${JSON.stringify({ file: name, ...reading, walk, flow_walk, resistor }, null, 1)}\n`;
  if (flags.csv)
    return walk ? voltageWalkCsv(walk) : flow_walk ? flowWalkCsv(flow_walk) : currentCsv(reading);
  const parts = [`${name}\n${currentReadingText(reading)}`];
  if (resistor && resistor.sentences.length > 0) parts.push(`${resistor.sentences.join('\n')}\n`);
  if (walk) parts.push(voltageWalkText(walk));
  if (flow_walk) parts.push(flowWalkText(flow_walk));
  return parts.join('\n');
}
