/**
 * The form of one fall in a level series: sharp or slow at each edge, and whether it comes back above where it left.
 * An edge is sharp when at most one scan stands between a quarter and three quarters of the fall. Breaks for falls of one
 * or two scans, whose edges the scan spacing hides: those count as sharp.
 */
import { median } from '../../core/numeric/robust.ts';
import type { RunEvent, RunGroup } from '../run-reading.ts';

export interface FallForm {
  /** Scans inside the fall. */
  scans: number;
  sharp_start: boolean;
  sharp_end: boolean;
  overshoot: boolean;
}

/** Scans beside the fall that say where it left from, and those searched for its edge. */
const BESIDE = 10;
const EDGE = 4;
/** Scans after the recovery that may stand higher, and by how much at least (ln), and in scan-to-scan sigmas. Judgement. */
const AFTER = 3;
const OVER_LOG = 0.15;
const OVER_SIGMAS = 3;

export function fallForm(group: RunGroup, event: RunEvent): FallForm | undefined {
  const { time_s, level } = group.series;
  const first = time_s.findIndex((time) => time >= event.start_s);
  let past = first;
  while (past < time_s.length && time_s[past]! <= event.end_s) past++;
  if (first < 1 || past <= first) return undefined;
  const least = level.reduce(
    (low, value) => (value > 0 ? Math.min(low, value) : low),
    Number.POSITIVE_INFINITY,
  );
  if (!Number.isFinite(least)) return undefined;
  const log = level.map((value) => Math.log(Math.max(value, least / 10)));
  const beside = [
    ...log.slice(Math.max(0, first - BESIDE), first),
    ...log.slice(past + AFTER, past + AFTER + BESIDE),
  ];
  const from = median(beside);
  const inside = median(log.slice(first, past));
  const between = (value: number) => {
    const share = (from - value) / (from - inside);
    return share > 0.25 && share < 0.75;
  };
  const slow = (at: number) => log.slice(Math.max(0, at - EDGE), at + EDGE).filter(between).length > 1;
  const after = log.slice(past, past + AFTER);
  const over = Math.max(OVER_LOG, OVER_SIGMAS * (group.scan_scatter ?? 0));
  return {
    scans: past - first,
    sharp_start: !slow(first),
    sharp_end: !slow(past),
    overshoot: after.length > 0 && after.reduce((sum, value) => sum + value, 0) / after.length - from > over,
  };
}
