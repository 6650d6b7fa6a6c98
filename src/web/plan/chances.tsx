/** The chances of each state over the tip's voltage, and what the stated supply gives, in words. */

import { Button } from '@mantine/core';
import { memo } from 'react';
import { pictureSvg } from '../../core/picture.ts';
import { windowPicture } from '../../core/plan/chances-picture.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { windowCsv } from '../../core/plan/plan-csv.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { saveText } from '../save.ts';
import { useWidth } from '../use-width.ts';

const LEAST_SHARE = 0.02;

export const Chances = memo(function Chances({ plan, pending }: { plan: Plan; pending: string | undefined }) {
  const { ref, width } = useWidth();
  const none = plan.advice_withheld ?? undefined;
  return (
    <div className="section">
      <h2>Chances over the voltage</h2>
      <p>
        {none !== undefined && `None advised: ${none}. `}
        {plan.at_supply
          ? `At ${Math.round(plan.at_supply.supply_V)} V supply: ${words(plan.at_supply.chances)}.`
          : `At ${none === undefined && pending === undefined ? 'the advised ' : ''}${Math.round(plan.advised_V.value)} V at the tip the spray is steady in ${percent(plan.window.best_probability)} of what is thought possible.`}{' '}
        {plan.below_minimum.sentence}
      </p>
      <figure className="sheet">
        <div ref={ref}>
          {width > 0 && (
            <PictureView picture={windowPicture(plan, Math.round(width), pending !== undefined)} />
          )}
        </div>
        <figcaption>
          Going up in voltage. Bands are shares of what is thought possible of this emitter; the ratios to the
          onset are judgement until it has been walked. Coming down, a standing cone-jet survives to about{' '}
          {Math.round(plan.window.returns_down_to_V.value)} V.
        </figcaption>
      </figure>
      <div className="row">
        <Button
          variant="default"
          onClick={() =>
            saveText('steadycone-chances.svg', 'image/svg+xml', pictureSvg(windowPicture(plan, 900)))
          }
        >
          Chances as SVG
        </Button>
        <Button
          variant="default"
          onClick={() => saveText('steadycone-chances.csv', 'text/csv', windowCsv(plan))}
        >
          Chances as CSV
        </Button>
      </div>
    </div>
  );
});

function words(chances: Record<string, number>): string {
  return Object.entries(chances)
    .filter(([, share]) => share >= LEAST_SHARE)
    .sort((a, b) => b[1] - a[1])
    .map(([state, share]) => `${state} ${percent(share)}`)
    .join(', ');
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
