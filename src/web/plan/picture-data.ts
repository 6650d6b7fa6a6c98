/** The data under the three pictures as CSV: the gap's outlines, the liquid's outline at the tip, the apex curve. */
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import { csvCell } from '../save.ts';
import { curveToTurn } from './apex-curve.tsx';
import { gapShape } from './gap-frame.ts';
import type { TipPicture } from './tip-picture.ts';

/** Origin at the inlet's mouth, x along its axis away from the tip. */
export function gapCsv(setup: Setup): string {
  const { emitter, walls } = gapShape(setup);
  const rows = [
    ...emitter.map((p) => ['emitter', p.x, p.y]),
    ...walls[0].map((p) => ['inlet wall above', p.x, p.y]),
    ...walls[1].map((p) => ['inlet wall below', p.x, p.y]),
  ];
  return table(['part', 'x_mm', 'y_mm'], rows);
}

/** Apex first, contact line last; `truth` says what the outline may be called. Empty where no outline is drawn. */
export function outlineCsv({ shape, truth }: TipPicture, tip_V: number): string {
  const { r_um, z_um } = shape.kind === 'outline' ? shape.outline : { r_um: [], z_um: [] };
  return table(
    ['tip_V', 'r_um', 'z_um', 'shown_as'],
    r_um.map((r, k) => [round(tip_V), round(r), round(z_um[k]!), truth]),
  );
}

/** Solved heights up to the turning point; `onset_V` is that of the composition that is shown. */
export function curveCsv(plan: Plan, onset_V: number): string {
  const scale = plan.meniscus.kind === 'solved' ? onset_V / plan.meniscus.onset_V : 1;
  return table(
    ['tip_V', 'apex_height_um'],
    curveToTurn(plan).map(({ tip_V, apex_height_um }) => [round(tip_V * scale), round(apex_height_um)]),
  );
}

function table(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  return `${[head, ...rows].map((row) => row.map((cell) => csvCell(cell)).join(',')).join('\n')}\n`;
}

function round(value: number): number {
  return Number(value.toPrecision(6));
}
