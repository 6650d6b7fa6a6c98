/** The working point so far: where, how sure, how far from its edges; what it hands on. */
import { Button } from '@mantine/core';
import type { Recommendation, SettleSession } from '../../core/settling/index.ts';
import { figure } from '../words.ts';
import { AXIS_NAMES, movable } from './axis-names.ts';

export function BestPart({
  id,
  best,
  session,
}: {
  id: string;
  best: Recommendation;
  session: SettleSession;
}) {
  const percent = (share: number) => `${Math.round(100 * share)} %`;
  return (
    <section className="section" aria-label="Best point so far">
      <h2>Best point so far</h2>
      <dl className="keys">
        {movable(session).map((axis) => {
          const margin = best.margins.find((one) => one.axis === axis);
          return (
            <div key={axis} data-axis={axis}>
              <dt>{AXIS_NAMES[axis].name}</dt>
              <dd className="big">
                {figure(best.at[axis])} {AXIS_NAMES[axis].unit}
              </dd>
              {margin && (
                <dd>
                  {figure(margin.down)} {margin.unit} down ({margin.down_ends}), {figure(margin.up)}{' '}
                  {margin.unit} up ({margin.up_ends})
                </dd>
              )}
            </div>
          );
        })}
      </dl>
      <p>
        Level expected there {figure(best.level)} (within a factor {figure(best.level_factor)}); within 5 % of
        the best in reach with {percent(best.chance_within_5_percent)}; steady with{' '}
        {percent(best.chance_steady)}. {best.flatness}
      </p>
      <div className="row">
        <Button
          component="a"
          href={`/api/settlings/${encodeURIComponent(id)}/hand-over.html`}
          target="_blank"
        >
          Hand-over, one page
        </Button>
        <Button
          component="a"
          variant="default"
          href={`/api/settlings/${encodeURIComponent(id)}/hand-over.yaml`}
          download={`${id}-observations.yaml`}
        >
          Observations for the plan
        </Button>
      </div>
    </section>
  );
}
