import { Command } from 'commander';
import {
  FILE_FAULTS,
  loadSetupFile,
  METERS,
  NOT_REHEARSED,
  REHEARSED_FAULTS,
  type Rehearsal,
  rehearse,
  TRACE_FORMATS,
  type TraceFormat,
} from '../app/index.ts';
import { inputError } from '../core/errors.ts';

interface RehearseFlags {
  seed: string;
  fault: string;
  faultAt?: string;
  faults?: true;
  out?: string;
  setup?: string;
  seconds: string;
  runSeconds?: string;
  scan: string;
  voltage?: string;
  flow?: string;
  distance?: string;
  offset?: string;
  meter: string;
  rate?: string;
  bandwidth?: string;
  write: string;
  peaks: string;
  force?: true;
  json?: true;
}

export function rehearseCommand(): Command {
  return new Command('rehearse')
    .description(
      'a simulated bench with a hidden truth: writes an invented current trace, run file and the truth',
    )
    .option('--out <dir>', 'folder for trace.csv, trace.wav, run.mzML and truth.json')
    .option('--seed <n>', 'which hidden emitter; the same seed gives the same files', '1')
    .option('--fault <id>', 'none, random, or a fault that --faults lists', 'none')
    .option('--fault-at <s>', 'the fault sets in at this second')
    .option('--faults', 'list the faults that can be rehearsed')
    .option('--setup <file>', 'your own set-up (YAML or JSON) in place of the invented one')
    .option('--seconds <s>', 'length of the current trace', '5')
    .option('--run-seconds <s>', 'length of the run file, at least the trace', '300')
    .option('--scan <s>', 'from one scan to the next', '1')
    .option(
      '--voltage <V>',
      'tip voltage, or steps such as 0:800,10:1200; left out: the hidden working point',
    )
    .option('--flow <nL/min>', 'flow, or steps')
    .option('--distance <mm>', 'tip to inlet, or steps')
    .option('--offset <mm>', 'tip off the axis, or steps')
    .option('--meter <name>', `current meter: ${Object.keys(METERS).join(', ')}`, 'usual')
    .option('--rate <Hz>', 'samples per second in place of the meter’s own, up to 1000000')
    .option('--bandwidth <Hz>', 'bandwidth in place of the meter’s own')
    .option('--write <list>', `what to write: ${TRACE_FORMATS.join(',')}`, 'csv,wav,mzml')
    .option('--peaks <n>', 'eluting peaks in the run file, 0 for an infusion', '0')
    .option('--force', 'write over files that are there')
    .option('--json', 'the summary as JSON')
    .action(async (flags: RehearseFlags) => {
      if (flags.faults) {
        const played = REHEARSED_FAULTS.map(({ id, name }) => `${id}: ${name}`);
        const others = Object.entries(NOT_REHEARSED).map(([id, why]) => `${id}: ${why}`);
        const filed = FILE_FAULTS.map(({ id, name }) => `${id}: ${name}`);
        process.stdout.write(
          `${[
            ...played,
            '',
            'In written files only (left-out --voltage, or --peaks):',
            ...filed,
            '',
            'In the catalogue, but not played:',
            ...others,
          ].join('\n')}\n`,
        );
        return;
      }
      if (flags.out === undefined)
        throw inputError('missing', '--out', '', 'a folder for the files, or --faults for the list');
      const setup = flags.setup === undefined ? undefined : await loadSetupFile(flags.setup);
      const courses = {
        ...(flags.voltage === undefined ? {} : { voltage_V: flags.voltage }),
        ...(flags.flow === undefined ? {} : { flow_nL_min: flags.flow }),
        ...(flags.distance === undefined ? {} : { distance_mm: flags.distance }),
        ...(flags.offset === undefined ? {} : { offset_mm: flags.offset }),
      };
      const result = await rehearse(flags.out, {
        seed: numberOf('--seed', flags.seed, 0, 4294967295, true),
        fault: flags.fault,
        courses,
        trace_s: numberOf('--seconds', flags.seconds, 0.1, 3600),
        run_s: numberOf('--run-seconds', flags.runSeconds ?? '300', 0, 21600),
        scan_s: numberOf('--scan', flags.scan, 0.1, 10),
        meter: meterName(flags.meter),
        formats: formatsOf(flags.write),
        force: flags.force ?? false,
        peaks: numberOf('--peaks', flags.peaks, 0, 500, true),
        ...(setup === undefined ? {} : { setup }),
        ...(flags.faultAt === undefined
          ? {}
          : { faultFrom_s: numberOf('--fault-at', flags.faultAt, 0, 21600) }),
        ...(flags.rate === undefined ? {} : { rate_Hz: numberOf('--rate', flags.rate, 1000, 1e6) }),
        ...(flags.bandwidth === undefined
          ? {}
          : { bandwidth_Hz: numberOf('--bandwidth', flags.bandwidth, 1, 1e6) }),
      });
      process.stdout.write(flags.json ? `${JSON.stringify(result, null, 2)}\n` : summary(result));
    });
}

function numberOf(name: string, text: string, low: number, high: number, whole = false): number {
  const value = Number(text);
  if (text.trim() === '' || !(value >= low && value <= high) || (whole && !Number.isInteger(value)))
    throw inputError(
      'out of range',
      name,
      text,
      `${whole ? 'a whole number' : 'a number'} from ${low} to ${high}`,
    );
  return value;
}

function meterName(name: string): keyof typeof METERS {
  if (!Object.hasOwn(METERS, name))
    throw inputError('unknown', '--meter', name, Object.keys(METERS).join(', '));
  return name as keyof typeof METERS;
}

function formatsOf(text: string): TraceFormat[] {
  return text.split(',').map((part) => {
    const found = TRACE_FORMATS.find((format) => format === part.trim());
    if (found === undefined) throw inputError('unknown', '--write', part.trim(), TRACE_FORMATS.join(', '));
    return found;
  });
}

const MOST_LINES = 40;

function summary({ files, left_out, truth, stretches, scans }: Rehearsal): string {
  const lines = [
    `Invented by the rehearsal, seed ${truth.seed}; not a measurement. Nothing here touches a real supply.`,
    '',
    ...stretches.slice(0, MOST_LINES).map((stretch) => {
      const jets = stretch.jets > 1 ? ` (${stretch.jets})` : '';
      const beat =
        stretch.pulsation_Hz === undefined
          ? ''
          : `, pulses at ${(stretch.pulsation_Hz / 1000).toFixed(1)} kHz`;
      const corona = stretch.corona ? ', with corona' : '';
      return `${stretch.from_s.toFixed(1)} to ${stretch.to_s.toFixed(1)} s: ${stretch.regime}${jets}${corona} at ${stretch.tip_V.toFixed(0)} V (onset ${stretch.onset_V.toFixed(0)} V), ${stretch.current_nA.toFixed(1)} nA${beat}`;
    }),
    ...(stretches.length > MOST_LINES
      ? [`… and ${stretches.length - MOST_LINES} more, all in truth.json`]
      : []),
    '',
    `Fault: ${truth.fault === null ? 'none' : `${truth.fault.name}, from ${truth.fault.from_s} s`}. Scans: ${scans}.`,
    ...left_out.map((sentence) => `Left out: ${sentence}.`),
    ...files.map((file) => `Wrote ${file}`),
  ];
  return `${lines.join('\n')}\n`;
}
