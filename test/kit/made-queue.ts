/** Files of a queue made in a test: plain summaries with what the test cares about. */
import type { QueueFile } from '../../src/evidence/queue/queue-file.ts';
import type { RunSummary } from '../../src/evidence/queue/run-summary.ts';

export function madeRun(parts: Partial<RunSummary> = {}): RunSummary {
  return {
    format: 'mzML',
    grade: 'keep',
    sentence: 'Keep this run: the level holds.',
    invented: false,
    broken: null,
    ms1_count: 2000,
    start_s: 0,
    end_s: 3600,
    interval_s: 1.8,
    kept: [{ start_s: 0, end_s: 3600 }],
    kept_share: 1,
    scan_scatter: 0.06,
    injection_ms: 20,
    clamped_share: 0,
    level: 1e8,
    background: null,
    stability: null,
    course_scatter: 0.1,
    events: [],
    ...parts,
  };
}

export const badRun = (): RunSummary =>
  madeRun({ grade: 'repeat', sentence: 'Repeat this run: little is left.', kept: [], kept_share: 0.1 });

export function madeFile(
  number: number,
  summary: RunSummary | null,
  parts: Partial<QueueFile> = {},
): QueueFile {
  return {
    name: `run_${number}.mzML`,
    sha256: String(number).padStart(64, '0'),
    bytes: 1000 + number,
    began: new Date(Date.UTC(2031, 1, 3, 18) + number * 3_900_000).toISOString(),
    began_from: 'run',
    refusal: summary === null ? 'invalid run file: text; expected an mzML or mzXML file' : null,
    summary,
    reading_id: null,
    same_as: null,
    judged_by: summary === null ? null : 'this version',
    ...parts,
  };
}
