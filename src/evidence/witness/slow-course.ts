/** The slow course that the ions lasting most of the run share, block by block and drawn through the scans. */
import { median } from '../../core/numeric/robust.ts';
import { type DoneBlock, drawnAt } from './ion-courses.ts';

/** Ions needed in a scan's block for a factor. Judgement: with fewer one bad ion carries it. */
export const LEAST_IONS = 8;
/** Ions that stand in this share of the blocks carry the slow course. */
const LASTING_SHARE = 0.75;

export interface SlowBlock {
  /** Number of the block. */
  at: number;
  log: number;
  low: number;
  high: number;
  /** Common part of the courses that are taken out of the ions. */
  course: number;
}

export function slowCourse(blocks: readonly DoneBlock[]): SlowBlock[] {
  const met = new Map<number, { mz: number; logs: number[] }>();
  for (const block of blocks) {
    block.ids.forEach((id, c) => {
      const entry = met.get(id) ?? { mz: block.mz[c]!, logs: [] };
      entry.logs.push(block.middle[c]!);
      met.set(id, entry);
    });
  }
  const lasting = [...met].filter(([, entry]) => entry.logs.length >= LASTING_SHARE * blocks.length);
  if (lasting.length < LEAST_IONS) return [];
  const split = median(lasting.map(([, entry]) => entry.mz));
  const middles = new Map(lasting.map(([id, entry]) => [id, median(entry.logs)]));
  const slow: SlowBlock[] = [];
  blocks.forEach((block, b) => {
    const offs: { off: number; course: number; high: boolean }[] = [];
    block.ids.forEach((id, c) => {
      const middle = middles.get(id);
      if (middle === undefined) return;
      offs.push({
        off: block.middle[c]! - middle,
        course: block.course[c]! - middle,
        high: block.mz[c]! > split,
      });
    });
    const of = (high: boolean): number =>
      median(offs.filter((one) => one.high === high).map((one) => one.off));
    if (offs.length < LEAST_IONS) return;
    slow.push({
      at: b,
      log: median(offs.map((one) => one.off)),
      low: of(false),
      high: of(true),
      course: median(offs.map((one) => one.course)),
    });
  });
  return slow;
}

/** The common course drawn through the blocks' middles as each ion's own is. */
export function drawn(blocks: readonly DoneBlock[], slow: readonly SlowBlock[], n: number): Float64Array {
  const out = new Float64Array(n).fill(Number.NaN);
  const of = new Map(slow.map(({ at, course }) => [at, course]));
  for (const { at, course } of slow) {
    const { first, scans } = blocks[at]!;
    const before = of.get(at - 1) ?? course;
    const after = of.get(at + 1) ?? course;
    for (let s = 0; s < scans; s++) out[first + s] = drawnAt(s, scans, before, course, after);
  }
  return out;
}
