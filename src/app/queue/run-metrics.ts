/** All quality metrics of one run for mzQC: the PSI terms as computed on reading, and ours from the reading's short form. */
import type { RunSummary } from '../../evidence/queue/index.ts';
import { ownColumns, ownMetric, type QualityMetric } from '../../formats/mzqc/index.ts';

export function runMetrics(summary: RunSummary, psi: readonly QualityMetric[]): QualityMetric[] {
  const count = (kind: string) => summary.events.filter((event) => event.kind === kind).length;
  const metrics = [
    ...psi,
    ownMetric('verdict', summary.grade, summary.sentence),
    ownMetric('usable_share', summary.kept_share),
    ownMetric('usable_spans', {
      [ownColumns.start]: summary.kept.map((piece) => piece.start_s),
      [ownColumns.end]: summary.kept.map((piece) => piece.end_s),
    }),
    ownMetric('dropouts', count('dropout')),
    ownMetric('sags', count('sag')),
    ownMetric('events', {
      [ownColumns.kind]: summary.events.map((event) => event.kind),
      [ownColumns.start]: summary.events.map((event) => event.start_s),
      [ownColumns.end]: summary.events.map((event) => event.end_s),
      [ownColumns.lost_share]: summary.events.map((event) => event.depth),
      [ownColumns.confidence]: summary.events.map((event) => event.confidence),
    }),
  ];
  if (summary.scan_scatter !== null) metrics.push(ownMetric('scan_scatter', summary.scan_scatter));
  if (summary.course_scatter !== null) metrics.push(ownMetric('course_scatter', summary.course_scatter));
  if (summary.clamped_share !== null) metrics.push(ownMetric('clamped_share', summary.clamped_share));
  if (summary.stability !== null)
    metrics.push(ownMetric('stability', summary.stability.grade, summary.stability.definition));
  return metrics;
}
