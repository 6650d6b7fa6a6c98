/** A reading of a current trace as text for a terminal and as a table for a spreadsheet. */
import { frequencyText, rateText } from '../../core/signal/index.ts';
import { durationText } from '../words.ts';
import type { CurrentReading } from './current-reading.ts';
import { currentText } from './labels.ts';
import { REGIMES } from './regimes.ts';

const MOST_LINES = 24;

export function currentReadingText(reading: CurrentReading): string {
  const length = durationText(reading.end_s - reading.start_s);
  const lines = [
    `${length} at ${rateText(reading.rate_Hz)} (${reading.rate_from}), windows of ${Number(reading.window_s.toPrecision(3))} s${reading.invented ? '; INVENTED DATA' : ''}`,
    '',
    ...reading.sentences,
  ];
  if (reading.timeline.length > 0) {
    lines.push('', 'Timeline');
    for (const s of reading.timeline.slice(0, MOST_LINES)) {
      const volts = s.voltage_V ? ` [${range(s.voltage_V.low, s.voltage_V.high)} V]` : '';
      lines.push(`  ${clock(s.start_s)} to ${clock(s.end_s)}${volts}  ${s.sentence}`);
    }
    if (reading.timeline.length > MOST_LINES)
      lines.push(`  … ${reading.timeline.length - MOST_LINES} more stretches; --json and --csv give all`);
  }
  if (reading.events.length > 0) {
    lines.push('', 'Events');
    for (const e of reading.events.slice(0, MOST_LINES))
      lines.push(`  ${clock(e.start_s)}  ${e.kind}: ${e.sentence}`);
    if (reading.events.length > MOST_LINES)
      lines.push(`  … ${reading.events.length - MOST_LINES} more; --json gives all`);
  }
  if (reading.comparison) {
    const c = reading.comparison;
    lines.push(
      '',
      c.calibrated
        ? 'Against the plan'
        : 'Against the plan (not calibrated: what to test, no regime is named by it)',
    );
    lines.push(
      `  ${currentText(c.level_nA)} of ${currentText(c.expected_nA.value)} (${currentText(c.expected_nA.low)} to ${currentText(c.expected_nA.high)}), ${Number(c.ratio.toPrecision(3))} times`,
    );
    for (const m of c.meanings.filter((m) => m.probability > 0.05))
      lines.push(`  ${m.cause} ${Math.round(100 * m.probability)} %: ${m.why}`);
    lines.push(
      `  pulsation to be looked for at ${frequencyText(c.pulsation_Hz.low)} to ${frequencyText(c.pulsation_Hz.high)}`,
    );
  }
  const listed = (title: string, texts: readonly string[]) => {
    if (texts.length > 0) lines.push('', title, ...texts.map((text) => `  - ${text}`));
  };
  listed('Warnings', reading.warnings);
  listed('Not known', reading.not_known);
  listed('Cautions', reading.cautions);
  return `${lines.join('\n')}\n`;
}

export function currentCsv(reading: CurrentReading): string {
  const head = [
    'start_s',
    'end_s',
    'regime',
    'level_nA',
    'scatter_nA',
    'min_nA',
    'max_nA',
    'frequency_Hz',
    'charge_pC',
    'voltage_V',
    ...REGIMES.map((name) => `p_${name.replace(/[ -]/g, '_')}`),
  ];
  const rows = reading.windows.map((w) =>
    [
      w.start_s,
      w.end_s,
      w.regime === 'steady' && !reading.decidability.decides
        ? `steady below ${Math.round(reading.decidability.below_Hz)} Hz`
        : w.regime,
      w.level_nA,
      w.scatter_nA,
      w.min_nA,
      w.max_nA,
      w.frequency_Hz ?? '',
      w.charge_pC ?? '',
      w.voltage_V ?? '',
      ...REGIMES.map((name) => w.probabilities[name].toFixed(4)),
    ]
      .map((cell) => (typeof cell === 'number' ? String(Number(cell.toPrecision(6))) : cell))
      .join(','),
  );
  return `${[head.join(','), ...rows].join('\r\n')}\r\n`;
}

function range(low: number, high: number): string {
  return high - low < 1 ? low.toFixed(0) : `${low.toFixed(0)} to ${high.toFixed(0)}`;
}

/** '12.3 s', '3:05.2' from a minute on. */
function clock(time_s: number): string {
  if (time_s < 60) return `${time_s.toFixed(2)} s`;
  const minutes = Math.floor(time_s / 60);
  return `${minutes}:${(time_s - 60 * minutes).toFixed(1).padStart(4, '0')}`;
}
