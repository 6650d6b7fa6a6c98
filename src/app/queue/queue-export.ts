/** A stored queue as a file to take along. */
import { inputError } from '../../core/errors.ts';
import { queueCsv, queueHtml, type RunSummary } from '../../evidence/queue/index.ts';
import { mzqcDocument, type QualityMetric } from '../../formats/mzqc/index.ts';
import type { Bench } from '../bench.ts';
import { localOffset, queueSvg } from './pictures.ts';
import { runMetrics } from './run-metrics.ts';
import { shortAs, storedQueue } from './stored-queue.ts';

export const queueExports = ['csv', 'svg', 'html', 'mzqc'] as const;
export type QueueExport = (typeof queueExports)[number];

const types: Record<QueueExport, string> = {
  csv: 'text/csv; charset=utf-8',
  svg: 'image/svg+xml; charset=utf-8',
  html: 'text/html; charset=utf-8',
  mzqc: 'application/json; charset=utf-8',
};

export async function queueExport(
  bench: Bench,
  label: string,
  as: string,
): Promise<{ type: string; text: string }> {
  const kind = queueExports.find((name) => name === as);
  if (!kind) throw inputError('unknown', 'kind of file', as.slice(0, 20), queueExports.join(', '));
  const { report } = await storedQueue(bench, label);
  return { type: types[kind], text: await textOf(bench, report, kind) };
}

async function textOf(
  bench: Bench,
  report: Awaited<ReturnType<typeof storedQueue>>['report'],
  kind: QueueExport,
): Promise<string> {
  const made = bench.stamp('').when;
  switch (kind) {
    case 'csv':
      return queueCsv(report);
    case 'svg':
      return queueSvg(report);
    case 'html':
      return queueHtml(report, { made, version: bench.version, offset_min: localOffset });
    case 'mzqc': {
      const runs = [];
      for (const { sha256, name, judged_by } of report.files) {
        const short = sha256 === null ? undefined : await shortAs(bench, sha256, judged_by);
        if (!short || sha256 === null) continue;
        const summary = short.summary as RunSummary;
        const metrics = runMetrics(summary, short.metrics as QualityMetric[]);
        runs.push({ name, sha256, format: summary.format, metrics });
      }
      if (runs.length === 0)
        throw inputError('missing', 'runs', 'none is kept in short', 'a queue with readings');
      return `${JSON.stringify(mzqcDocument(runs, { created: made, version: bench.version }), null, 1)}\n`;
    }
  }
}
