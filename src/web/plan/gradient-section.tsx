/** The gradient at the tip: chart, what it says, the ramp, the minutes at risk, where to walk, and the table's lines. */

import { Button } from '@mantine/core';
import { memo } from 'react';
import { type GradientPlan, gradientCsv, rampCsv } from '../../core/gradient/index.ts';
import { pictureSvg } from '../../core/picture.ts';
import { gradientPicture } from '../../core/plan/gradient-picture.ts';
import type { GradientRow } from '../../core/plan/plan.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { saveText } from '../save.ts';
import { StackedTable } from '../stacked-table.tsx';
import { useWidth } from '../use-width.ts';
import { GradientTable } from './numbers.tsx';

export const GradientSection = memo(function GradientSection({
  gradient,
  rows,
  stale,
}: {
  gradient: GradientPlan;
  rows: readonly GradientRow[];
  stale: boolean;
}) {
  const { ref, width } = useWidth();
  return (
    <div className={`section${stale ? ' stale' : ''}`} data-gradient-stale={stale}>
      <h2>Along the gradient</h2>
      <figure className="sheet">
        <div ref={ref}>
          {width > 0 && <PictureView picture={gradientPicture(gradient, Math.round(width))} />}
        </div>
        <figcaption>
          Supply voltage against minutes at the tip. Filled: between the middle lower and upper edge; thin
          lines: where nine in ten emitters have begun to be steady, and where one in ten has left. Dashed:
          the ramp. Hatched above: minutes at risk.
        </figcaption>
      </figure>
      <div className="row">
        <Button
          variant="default"
          onClick={() =>
            saveText('steadycone-gradient.svg', 'image/svg+xml', pictureSvg(gradientPicture(gradient, 900)))
          }
        >
          Gradient as SVG
        </Button>
        <Button
          variant="default"
          onClick={() => saveText('steadycone-gradient.csv', 'text/csv', gradientCsv(gradient))}
        >
          Gradient as CSV
        </Button>
        <Button
          variant="default"
          onClick={() => saveText('steadycone-ramp.csv', 'text/csv', rampCsv(gradient.ramp))}
        >
          Ramp as CSV
        </Button>
      </div>
      <ul>
        {gradient.sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      {gradient.ramp.steps.length > 0 && <Ramp gradient={gradient} />}
      <h3>Minutes at risk</h3>
      {gradient.risks.length === 0 ? (
        <p>None found at the voltage that is judged.</p>
      ) : (
        <ul>
          {gradient.risks.map((risk) => (
            <li key={risk.sentence}>{risk.sentence}</li>
          ))}
        </ul>
      )}
      <h3>Where to walk the voltage</h3>
      <ul>
        {gradient.walk_at.map((point) => (
          <li key={point.organic_percent}>
            {Math.round(point.organic_percent)} % organic ({Math.round(point.percent_B)} % B):{' '}
            {Math.round(point.from_V)} to {Math.round(point.to_V)} V by {point.step_V} V; {point.why}.
          </li>
        ))}
      </ul>
      <h3>Lines of the table</h3>
      <GradientTable rows={rows} />
    </div>
  );
});

const RAMP_COLUMNS = ['from [min]', 'supply [V]', 'tip [V]', 'holds', 'why'];

function Ramp({ gradient }: { gradient: GradientPlan }) {
  return (
    <>
      <h3>Supply by hand, the fewest steps</h3>
      <StackedTable
        columns={RAMP_COLUMNS}
        rows={gradient.ramp.steps.map((step) => ({
          key: step.time_min,
          cells: [
            step.time_min.toFixed(1),
            `${step.supply_V}${step.raises ? ' (a raise)' : ''}`,
            step.tip_V === null ? 'none' : String(Math.round(step.tip_V)),
            `${Math.round(100 * step.probability)} %`,
            step.reason,
          ],
        }))}
      />
    </>
  );
}
