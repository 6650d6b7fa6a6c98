/**
 * What the search is measured against: one factor at a time (repeated, spans shrinking), a Nelder-Mead simplex with restarts, and the
 * same simplex in V/V_on after a ramp of eight voltages. Each is a generator: it yields the point to read and gets what was read
 * (unsteady readings count 0.6); it recommends its best reading so far.
 */

import type { SettlePoint } from '../../src/core/settling/index.ts';
import { onsetClosed } from '../../src/core/window/index.ts';
import { BOX, START } from './source.ts';

export type Ask = Generator<SettlePoint, void, number>;

type Axis = keyof typeof BOX;
const AXES = Object.keys(BOX) as Axis[];

function inBox(point: SettlePoint): SettlePoint {
  const to = { ...point };
  for (const axis of AXES) {
    const { low, high, step } = BOX[axis];
    const snapped = START[axis] + Math.round((to[axis] - START[axis]) / step) * step;
    to[axis] = Number(Math.min(high, Math.max(low, snapped)).toFixed(6));
  }
  return to;
}

const SPANS: Record<Axis, number> = {
  voltage_V: 400,
  distance_mm: 1.5,
  lateral_x_mm: 0.8,
  lateral_y_mm: 0.8,
};
const POINTS_A_SCAN = 5;
const SHRINK = 0.6;
const LEAST_SPAN = 0.08;

export function* oneFactor(): Ask {
  let best = START;
  let shrink = 1;
  for (;;) {
    let moved = false;
    for (const axis of AXES) {
      let top = { point: best, level: yield best };
      for (let k = 0; k < POINTS_A_SCAN; k++) {
        const offset = (2 * k) / (POINTS_A_SCAN - 1) - 1;
        if (offset === 0) continue;
        const point = inBox({ ...best, [axis]: best[axis] + offset * shrink * SPANS[axis] });
        const level = yield point;
        if (level > top.level) top = { point, level };
      }
      if (top.point !== best) moved = true;
      best = top.point;
    }
    shrink = shrink * SHRINK < LEAST_SPAN ? 0.5 : moved && shrink > 0.5 ? shrink * 0.8 : shrink * SHRINK;
  }
}

export function simplex(): Ask {
  return nelderMead(
    START,
    (v) => v,
    (p) => p,
    SIMPLEX_STEPS,
  );
}

const SIMPLEX_STEPS: Record<Axis, number> = {
  voltage_V: 200,
  distance_mm: 0.8,
  lateral_x_mm: 0.4,
  lateral_y_mm: 0.4,
};
const RAMP = 8;

/** The simplex in V/V_on(z): V_on of the usual tip, its scale from the ramp at the start. */
export function* simplexOnRatio(): Ask {
  let top = { V: START.voltage_V, level: 0 };
  for (let k = 0; k < RAMP; k++) {
    const V = BOX.voltage_V.low * (BOX.voltage_V.high / BOX.voltage_V.low) ** (k / (RAMP - 1));
    const point = inBox({ ...START, voltage_V: V });
    const level = yield point;
    if (level > top.level) top = { V: point.voltage_V, level };
  }
  const onset = (z: number) =>
    onsetClosed(
      { surfaceTension: 0.036, contactRadius: 45e-6, distance: z * 1e-3, taperHalfAngle_deg: 0 },
      0.5,
    );
  const scale = top.V / onset(START.distance_mm);
  const toRatio = (p: SettlePoint) => ({ ...p, voltage_V: p.voltage_V / (scale * onset(p.distance_mm)) });
  const toVolts = (p: SettlePoint) => ({ ...p, voltage_V: p.voltage_V * scale * onset(p.distance_mm) });
  yield* nelderMead({ ...START, voltage_V: top.V }, toRatio, toVolts, { ...SIMPLEX_STEPS, voltage_V: 0.12 });
}

function* nelderMead(
  start: SettlePoint,
  into: (p: SettlePoint) => SettlePoint,
  out: (p: SettlePoint) => SettlePoint,
  steps: Record<Axis, number>,
): Ask {
  let centre = into(start);
  let scale = 1;
  const read = function* (p: SettlePoint): Generator<SettlePoint, number, number> {
    const inside = out(p);
    if (!(inside.distance_mm >= BOX.distance_mm.low)) inside.distance_mm = BOX.distance_mm.low;
    return yield inBox(inside);
  };
  for (;;) {
    const corners = [{ p: centre, f: yield* read(centre) }];
    for (const axis of AXES) {
      const p = { ...centre, [axis]: centre[axis] + scale * steps[axis] };
      corners.push({ p, f: yield* read(p) });
    }
    for (let round = 0; round < 60; round++) {
      corners.sort((a, b) => b.f - a.f);
      const size = Math.max(
        ...AXES.map((axis) => Math.abs(corners[0]!.p[axis] - corners.at(-1)!.p[axis]) / steps[axis]),
      );
      if (size < 0.15) break;
      const worst = corners.at(-1)!;
      const middle = { ...worst.p };
      for (const axis of AXES)
        middle[axis] = corners.slice(0, -1).reduce((sum, c) => sum + c.p[axis], 0) / (corners.length - 1);
      const along = (t: number) => {
        const p = { ...middle };
        for (const axis of AXES) p[axis] = middle[axis] + t * (worst.p[axis] - middle[axis]);
        return p;
      };
      const reflected = { p: along(-1), f: yield* read(along(-1)) };
      if (reflected.f > corners[0]!.f) {
        const further = { p: along(-2), f: yield* read(along(-2)) };
        corners[corners.length - 1] = further.f > reflected.f ? further : reflected;
      } else if (reflected.f > corners.at(-2)!.f) corners[corners.length - 1] = reflected;
      else {
        const inside = reflected.f > worst.f ? along(-0.5) : along(0.5);
        const f = yield* read(inside);
        if (f > Math.max(worst.f, reflected.f)) corners[corners.length - 1] = { p: inside, f };
        else
          for (const corner of corners.slice(1)) {
            for (const axis of AXES)
              corner.p = { ...corner.p, [axis]: (corner.p[axis] + corners[0]!.p[axis]) / 2 };
            corner.f = yield* read(corner.p);
          }
      }
    }
    corners.sort((a, b) => b.f - a.f);
    centre = corners[0]!.p;
    scale = 0.6;
  }
}
