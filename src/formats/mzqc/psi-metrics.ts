/**
 * Quality metrics of the PSI-MS vocabulary (data version 4.1.257) that the MS1 scans of a run give, each to its own
 * definition: over all MS1 scans in file order, whatever their kind. What a definition leaves open is said beside the value.
 * Blind by design to what this program looks for: a 50 % flicker makes no tenfold jump.
 */
import { quantileOfSorted } from '../../core/numeric/robust.ts';
import type { RunRecord } from '../run-record.ts';

export interface CvTerm {
  accession: string;
  name: string;
}

export interface QualityMetric extends CvTerm {
  description: string;
  value: unknown;
  unit?: CvTerm;
}

export const units = {
  count: { accession: 'UO:0000189', name: 'count unit' },
  fraction: { accession: 'UO:0000191', name: 'fraction' },
  millisecond: { accession: 'UO:0000028', name: 'millisecond' },
  second: { accession: 'UO:0000010', name: 'second' },
  minute: { accession: 'UO:0000031', name: 'minute' },
} as const satisfies Record<string, CvTerm>;

/** Beyond the quartiles by this many interquartile ranges a fill counts as an outlier; the term leaves the threshold to the file. */
const OUTLIER_RANGES = 1.5;

/** `series`: also the table of all MS1 total ion currents. */
export function psiMetrics(record: RunRecord, series = true): QualityMetric[] {
  const { tic, from } = totalIonCurrent(record);
  const metrics: QualityMetric[] = [
    {
      accession: 'MS:4000059',
      name: 'number of MS1 spectra',
      description: 'MS1 spectra met in the file.',
      value: record.ms1_count,
      unit: units.count,
    },
    {
      accession: 'MS:4000060',
      name: 'number of MS2 spectra',
      description: 'MS2 spectra met in the file.',
      value: record.spectra_by_level[2] ?? 0,
      unit: units.count,
    },
  ];
  const level = tic.filter(Number.isFinite);
  if (level.length >= 2) metrics.push(...ticMetrics(level, from));
  const timed = rowsWithTime(record, tic);
  if (timed.time.length >= 2) metrics.push(...timeMetrics(timed, from, series));
  const fills = record.injection_ms.filter((fill) => Number.isFinite(fill));
  if (fills.length > 0) metrics.push(...fillMetrics(fills));
  return metrics.filter(({ value }) => isPlain(value));
}

/** False where times or currents without sense carry a value beyond all numbers, which JSON cannot hold. */
function isPlain(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (Array.isArray(value)) return value.every(isPlain);
  return typeof value !== 'object' || Object.values(value as object).every(isPlain);
}

/** As stated where every MS1 scan states one, else the sums of the stored intensities. */
function totalIonCurrent(record: RunRecord): { tic: Float64Array; from: string } {
  const stated = record.tic_stated.length > 0 && record.tic_stated.every(Number.isFinite);
  return stated
    ? { tic: record.tic_stated, from: 'total ion current as stated' }
    : { tic: record.tic_summed, from: 'total ion current summed from the stored intensities' };
}

function ticMetrics(level: Float64Array, from: string): QualityMetric[] {
  let jumps = 0;
  let falls = 0;
  const changes = new Float64Array(level.length - 1);
  for (let i = 1; i < level.length; i++) {
    const before = level[i - 1]!;
    const now = level[i]!;
    // Written without a division: a rise from zero is a jump, zero after zero is neither.
    if (now > 10 * before) jumps++;
    if (10 * now < before) falls++;
    changes[i - 1] = Math.abs(now - before);
  }
  const metrics: QualityMetric[] = [
    {
      accession: 'MS:4000097',
      name: 'MS1 signal jump (10x) count',
      description: `Times the MS1 ${from} rose more than tenfold between adjacent MS1 scans.`,
      value: jumps,
      unit: units.count,
    },
    {
      accession: 'MS:4000098',
      name: 'MS1 signal fall (10x) count',
      description: `Times the MS1 ${from} fell more than tenfold between adjacent MS1 scans.`,
      value: falls,
      unit: units.count,
    },
  ];
  const change = quartileLogRatios(changes);
  if (change) {
    metrics.push({
      accession: 'MS:4000186',
      name: 'MS1 TIC-change quantile ratios',
      description: `Natural logarithms of Q2/Q1, Q3/Q2 and maximum/Q3 of the absolute changes of the ${from} between adjacent MS1 scans.`,
      value: change,
    });
  }
  const height = quartileLogRatios(level);
  if (height) {
    metrics.push({
      accession: 'MS:4000187',
      name: 'MS1 TIC quantile ratios',
      description: `Natural logarithms of Q2/Q1, Q3/Q2 and maximum/Q3 of the MS1 ${from}.`,
      value: height,
    });
  }
  return metrics;
}

/** Undefined where a quartile is zero: the ratio does not exist. */
function quartileLogRatios(values: Float64Array): number[] | undefined {
  const sorted = values.slice().sort();
  const [q1, q2, q3, most] = [0.25, 0.5, 0.75, 1].map((share) =>
    quantileOfSorted(sorted, sorted.length, share),
  );
  return q1! > 0 ? [Math.log(q2! / q1!), Math.log(q3! / q2!), Math.log(most! / q3!)] : undefined;
}

/** Rising in time. Plain arrays, because they go into the table of the file. */
interface Timed {
  time: number[];
  tic: number[];
}

function rowsWithTime(record: RunRecord, tic: Float64Array): Timed {
  const { time_s } = record;
  let count = 0;
  let rises = true;
  const rows = new Int32Array(time_s.length);
  for (let i = 0; i < time_s.length; i++) {
    if (!Number.isFinite(time_s[i]!) || !Number.isFinite(tic[i]!)) continue;
    if (count > 0 && time_s[i]! < time_s[rows[count - 1]!]!) rises = false;
    rows[count++] = i;
  }
  if (!rises) rows.subarray(0, count).sort((a, b) => time_s[a]! - time_s[b]!);
  const timed: Timed = { time: [], tic: [] };
  for (let k = 0; k < count; k++) {
    timed.time.push(time_s[rows[k]!]!);
    timed.tic.push(tic[rows[k]!]!);
  }
  return timed;
}

function timeMetrics({ time, tic }: Timed, from: string, series: boolean): QualityMetric[] {
  const metrics: QualityMetric[] = [];
  let area = 0;
  for (let i = 1; i < time.length; i++) area += ((tic[i]! + tic[i - 1]!) / 2) * (time[i]! - time[i - 1]!);
  metrics.push({
    accession: 'MS:4000029',
    name: 'area under TIC in MS1',
    description: `Area under the MS1 ${from} over time in seconds, by trapezoids.`,
    value: area,
  });
  const span = time.at(-1)! - time[0]!;
  if (span > 0 && time.length >= 4) {
    const ends = [0.25, 0.5, 0.75, 1].map((share) => time[Math.ceil(share * time.length) - 1]!);
    metrics.push({
      accession: 'MS:4000184',
      name: 'MS1 quantile RT fraction',
      description:
        'Share of the time between the first and the last MS1 scan in which each quarter of the MS1 scans was taken.',
      value: ends.map((end, k) => (end - (k === 0 ? time[0]! : ends[k - 1]!)) / span),
      unit: units.fraction,
    });
  }
  const total = tic.reduce((sum, value) => sum + value, 0);
  if (total > 0) {
    let run = 0;
    const at: number[] = [];
    for (let i = 0; i < tic.length && at.length < 3; i++) {
      run += tic[i]!;
      while (at.length < 3 && run >= 0.25 * (at.length + 1) * total) at.push(time[i]! / 60);
    }
    metrics.push({
      accession: 'MS:4000190',
      name: 'MS1 TIC quantile RT',
      description: `Times at which the accumulated MS1 ${from} reaches a quarter, a half and three quarters of its total.`,
      value: at,
      unit: units.minute,
    });
  }
  if (series) {
    metrics.push({
      accession: 'MS:4000211',
      name: 'MS1 total ion current',
      description: `The MS1 ${from} of every MS1 scan, with its time in seconds.`,
      value: { 'UO:0000010': time, 'MS:1000285': tic },
    });
  }
  return metrics;
}

function fillMetrics(fills: Float64Array): QualityMetric[] {
  const sorted = fills.slice().sort();
  const [q1, q2, q3] = [0.25, 0.5, 0.75].map((share) => quantileOfSorted(sorted, sorted.length, share)) as [
    number,
    number,
    number,
  ];
  const mean = fills.reduce((sum, fill) => sum + fill, 0) / fills.length;
  const low = q1 - OUTLIER_RANGES * (q3 - q1);
  const high = q3 + OUTLIER_RANGES * (q3 - q1);
  const metric = (accession: string, name: string, description: string, value: unknown): QualityMetric => ({
    accession,
    name: `MS1 ion collection time ${name}`,
    description: `${description} of the ion injection times (MS:1000927) of the MS1 scans.`,
    value,
    unit: units.millisecond,
  });
  const metrics = [
    metric('MS:4000131', 'quantiles', 'Quartiles Q1, Q2 and Q3', [q1, q2, q3]),
    metric('MS:4000132', 'mean', 'Mean', mean),
    metric(
      'MS:4000134',
      'low outliers',
      `Values below Q1 less ${OUTLIER_RANGES} interquartile ranges (${Number(low.toPrecision(6))} ms)`,
      [...sorted.filter((fill) => fill < low)],
    ),
    metric(
      'MS:4000135',
      'high outliers',
      `Values above Q3 plus ${OUTLIER_RANGES} interquartile ranges (${Number(high.toPrecision(6))} ms)`,
      [...sorted.filter((fill) => fill > high)],
    ),
  ];
  if (fills.length > 1) {
    const squares = fills.reduce((sum, fill) => sum + (fill - mean) ** 2, 0);
    metrics.splice(
      2,
      0,
      metric('MS:4000133', 'sigma', 'Standard deviation (n - 1)', Math.sqrt(squares / (fills.length - 1))),
    );
  }
  return metrics;
}
