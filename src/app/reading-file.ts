/** One kept reading as a file to take along: its series, its picture, its report, its quality metrics. */
import { inputError } from '../core/errors.ts';
import { type RunReading, readingCsv } from '../evidence/index.ts';
import { readingHtml, runSummary } from '../evidence/queue/index.ts';
import { mzqcDocument, type QualityMetric } from '../formats/mzqc/index.ts';
import { goodReadings, heldAgainst } from './against.ts';
import type { Bench } from './bench.ts';
import { localOffset, readingSvg } from './queue/pictures.ts';
import { runMetrics } from './queue/run-metrics.ts';

const types = {
  csv: 'text/csv; charset=utf-8',
  svg: 'image/svg+xml; charset=utf-8',
  html: 'text/html; charset=utf-8',
  mzqc: 'application/json; charset=utf-8',
} as const;

export type ReadingExport = keyof typeof types;

/** `file` is the reading's id and its kind, such as `reading-3.html`; picture and report take `against`, ids of good runs. */
export async function keptReadingFile(
  bench: Bench,
  file: string,
  against: readonly string[] = [],
): Promise<{ type: string; name: string; text: string }> {
  const [id = '', as = ''] = file.split('.');
  const kind = (Object.keys(types) as ReadingExport[]).find((one) => one === as.toLowerCase());
  if (!kind) throw inputError('unknown', 'kind of file', as.slice(0, 20), Object.keys(types).join(', '));
  const { item, document } = await bench.show(id);
  if (item.kind !== 'reading')
    throw inputError('invalid', 'reading', `"${id}"`, 'the id of a reading, such as reading-3');
  const reading = document as RunReading;
  if (kind !== 'csv' && (reading.stability === undefined || reading.masked === undefined))
    throw inputError('invalid', 'reading', `"${id}", made by an older version`, 'the run read again');
  const name = `${id}.${kind === 'mzqc' ? 'mzQC' : kind}`;
  return { type: types[kind], name, text: await textOf(bench, reading, item.on ?? '', kind, against) };
}

async function textOf(
  bench: Bench,
  reading: RunReading,
  run_id: string,
  kind: ReadingExport,
  against: readonly string[],
): Promise<string> {
  if (kind === 'csv') return readingCsv(reading);
  const held = async () => heldAgainst(reading, await goodReadings(against, bench));
  if (kind === 'svg') return readingSvg(reading, await held());
  const run = (await bench.show(run_id)).document as { sha256: string; name: string };
  const made = bench.stamp('').when;
  if (kind === 'html')
    return readingHtml(
      run.name,
      reading,
      { made, version: bench.version, offset_min: localOffset },
      await held(),
    );
  // The vocabulary's own metrics rest on the bytes alone: any reading of them has the same.
  const short = await bench.store.lastShortOf(run.sha256);
  const metrics = runMetrics(runSummary(reading), (short?.metrics ?? []) as QualityMetric[]);
  const quality = { name: run.name, sha256: run.sha256, format: reading.format, metrics };
  return `${JSON.stringify(mzqcDocument([quality], { created: made, version: bench.version }), null, 1)}\n`;
}
