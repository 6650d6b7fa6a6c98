import { expect, it } from 'vitest';
import { setupFrom } from '../../contract/index.ts';
import { conditionOf, meniscusShapes, planFor } from '../../core/plan/index.ts';
import { exampleSetup } from './example-setup.ts';
import { curveCsv, gapCsv, outlineCsv } from './picture-data.ts';
import { tipPicture } from './tip-picture.ts';

const setup = setupFrom(exampleSetup);
const plan = planFor(setup);
const { tip, jetLiquid } = conditionOf(setup);
const onset_V = plan.meniscus.kind === 'solved' ? plan.meniscus.onset_V : Number.NaN;
const rows = (csv: string) =>
  csv
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));
/** Six figures are written. */
const WRITTEN = 1e-5;

it('writes the outline from apex to contact line, with what it may be called', () => {
  const done = { setup, plan, shapes: meniscusShapes(tip, jetLiquid.surfaceTension) };
  const volts = 0.9 * onset_V;
  const picture = tipPicture({ setup, done, standing: 'whole', volts, onset_V, jet_nm: 400 });
  const lines = rows(outlineCsv(picture, volts));
  expect(lines.length).toBeGreaterThan(10);
  expect(Number(lines[0]?.[1])).toBe(0);
  expect(Number(lines.at(-1)?.[1])).toBeCloseTo(12, 4);
  expect(new Set(lines.map(([, , , truth]) => truth))).toEqual(new Set(['solved']));
});

it('writes the apex curve up to the turning point, moved with the composition', () => {
  const [own, other] = [curveCsv(plan, onset_V), curveCsv(plan, 0.5 * onset_V)].map(rows);
  const last = own!.at(-1)!;
  expect(Number(last[0]) / onset_V).toBeLessThan(1 + WRITTEN);
  expect(Number(other!.at(-1)![0]) / Number(last[0])).toBeCloseTo(0.5, 4);
  expect(other!.at(-1)![1]).toBe(last[1]);
});

it('writes emitter and inlet of the gap in millimetres', () => {
  const lines = rows(gapCsv(setup));
  expect(new Set(lines.map(([part]) => part)).size).toBe(3);
  // The rim's two corners, 3 mm before the mouth and 0.6 mm off the axis.
  expect(lines[0]).toEqual(['emitter', '-3', String(0.6 - 0.012)]);
});
