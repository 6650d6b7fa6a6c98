/** Two set-ups side by side: the one on the page and one put aside, their tips and the numbers that differ, in words. */
import { Button } from '@mantine/core';
import { useWidth } from '../use-width.ts';
import { figure, keyParts, rangeText, withUnit } from '../words.ts';
import { planNumbers } from './plan-numbers.ts';
import { TipView } from './tip-view.tsx';
import type { PlanDone } from './use-plan.ts';

export interface CompareProps {
  now: PlanDone;
  aside: PlanDone | undefined;
  onAside: (aside: PlanDone | undefined) => void;
}

/** Differences below this share are none. */
const SAME = 0.01;

export function Compare({ now, aside, onAside }: CompareProps) {
  return (
    <div className="section" data-panel="compare">
      <h2>Compare</h2>
      {aside === undefined ? (
        <p>Put this set-up aside, then change values: both stand side by side.</p>
      ) : (
        <Beside now={now} aside={aside} />
      )}
      <div className="row">
        <Button variant="default" onClick={() => onAside(now)}>
          {aside === undefined ? 'Put this set-up aside' : 'Put this one aside instead'}
        </Button>
        {aside !== undefined && (
          <Button variant="default" onClick={() => onAside(undefined)}>
            End the comparison
          </Button>
        )}
      </div>
    </div>
  );
}

function Beside({ now, aside }: { now: PlanDone; aside: PlanDone }) {
  const before = new Map(planNumbers(aside.plan).map((number) => [number.key, number.estimate]));
  const rows = planNumbers(now.plan).flatMap(({ key, label, estimate }) => {
    const other = before.get(key);
    return other === undefined ? [] : [{ key, label, estimate, other }];
  });
  const changed = rows.filter(
    ({ estimate, other }) => Math.abs(estimate.value - other.value) > SAME * Math.abs(other.value),
  );
  return (
    <>
      <div className="beside">
        <Tip title="Put aside" done={aside} />
        <Tip title="On the page" done={now} />
      </div>
      {changed.length === 0 ? (
        <p>No number differs by more than 1 %.</p>
      ) : (
        <table className="stacked" data-table="differences">
          <thead>
            <tr>
              <th scope="col">number</th>
              <th scope="col">put aside</th>
              <th scope="col">on the page</th>
              <th scope="col">difference</th>
            </tr>
          </thead>
          <tbody>
            {changed.map(({ key, label, estimate, other }) => {
              const { unit } = keyParts(key);
              return (
                <tr key={key}>
                  <td data-label="number">{label}</td>
                  <td data-label="put aside">
                    {withUnit(figure(other.value), unit)} ({rangeText(other, unit)})
                  </td>
                  <td data-label="on the page">
                    {withUnit(figure(estimate.value), unit)} ({rangeText(estimate, unit)})
                  </td>
                  <td data-label="difference">{differenceWords(estimate.value, other)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
    </>
  );
}

function differenceWords(value: number, other: { value: number; low: number; high: number }): string {
  const inside =
    value >= other.low && value <= other.high
      ? ', within the range of the other'
      : ', beyond the range of the other';
  if (other.value === 0) return `from none${inside}`;
  const share = value / other.value;
  if (share > 2 || share < 0.5) return `${figure(share, 2)} times${inside}`;
  return `${Math.round(Math.abs(share - 1) * 100)} % ${share > 1 ? 'more' : 'less'}${inside}`;
}

function Tip({ title, done }: { title: string; done: PlanDone }) {
  const { ref, width } = useWidth();
  return (
    <figure className="sheet">
      <div ref={ref}>
        {width > 0 && <TipView setup={done.setup} plan={done.plan} width={Math.round(width)} height={230} />}
      </div>
      <figcaption>
        {title}: {done.setup.name ?? 'unnamed set-up'}
      </figcaption>
    </figure>
  );
}
