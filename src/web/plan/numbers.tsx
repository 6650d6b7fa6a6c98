import { memo } from 'react';
import type { Estimate } from '../../core/estimate.ts';
import type { GradientRow, Plan } from '../../core/plan/plan.ts';
import { figure, keyParts, rangeText, validityText, withUnit } from '../words.ts';
import { advisedCaution } from './advice.ts';
import { planNumbers } from './plan-numbers.ts';

/** The few that matter now, large. `pending` says what the advice waits for: it is the last to settle. */
export const KeyNumbers = memo(function KeyNumbers({
  plan,
  pending,
}: {
  plan: Plan;
  pending: string | undefined;
}) {
  const none = pending ?? plan.advice_withheld ?? undefined;
  const caution = advisedCaution(plan);
  const keys: [string, string, Estimate, string][] = [
    ['onset_V', 'Onset at the tip', plan.onset_V, 'V'],
    ['advised_supply_V', 'Advised at the supply', plan.advised_supply_V, 'V'],
    ['current_nA', 'Spray current', plan.current_nA, 'nA'],
    ['droplet_diameter_nm', 'First droplets', plan.droplet_diameter_nm, 'nm'],
  ];
  return (
    <dl className="keys">
      {keys.map(([key, label, estimate, unit]) => (
        <div key={key} data-number={key}>
          <dt>{label}</dt>
          {key === 'advised_supply_V' && none !== undefined ? (
            <>
              <dd className="big">{pending === undefined ? 'none advised' : '…'}</dd>
              <dd>{none}</dd>
            </>
          ) : (
            <>
              <dd className="big">{withUnit(figure(estimate.value), unit)}</dd>
              <dd>{rangeText(estimate, unit)}</dd>
              <dd className="soft">
                {estimate.basis}
                {estimate.valid ? '' : '; outside its stated reach'}
              </dd>
              {key === 'advised_supply_V' && caution !== undefined && (
                <dd data-caution="advised">
                  <strong>High voltage:</strong> {caution}
                </dd>
              )}
            </>
          )}
        </div>
      ))}
    </dl>
  );
});

const ADVICE = new Set(['advised_V', 'advised_supply_V']);

export const Ledger = memo(function Ledger({ plan }: { plan: Plan }) {
  const none = plan.advice_withheld ?? undefined;
  return (
    <ul className="ledger">
      {planNumbers(plan).map(({ key, label, estimate }) => {
        const { unit } = keyParts(key);
        if (none !== undefined && ADVICE.has(key))
          return (
            <li key={key} data-number={key}>
              <span>{label}</span>
              <span className="value">none advised</span>
              <span>{none}</span>
            </li>
          );
        return (
          <li key={key} data-number={key}>
            <span>{label}</span>
            <span className="value">{withUnit(figure(estimate.value), unit)}</span>
            <span>
              {rangeText(estimate, unit)}; <span className="soft">{estimate.basis}; </span>
              <span className={estimate.valid ? 'soft' : 'fault'}>{validityText(estimate)}</span>
            </span>
          </li>
        );
      })}
    </ul>
  );
});

export const Sources = memo(function Sources({ plan }: { plan: Plan }) {
  const sources = [...new Set(planNumbers(plan).flatMap(({ estimate }) => estimate.sources))].sort();
  return (
    <details>
      <summary>Sources of these numbers ({sources.length})</summary>
      <ul>
        {sources.map((source) => (
          <li key={source}>{source}</li>
        ))}
      </ul>
    </details>
  );
});

export const GradientTable = memo(function GradientTable({ rows }: { rows: readonly GradientRow[] }) {
  const [first] = rows;
  if (!first) return null;
  const keys = Object.keys(first) as (keyof typeof first)[];
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolled region must be reachable by keyboard
    <section className="scroll" aria-label="Along the gradient, a table" tabIndex={0}>
      <table className="stacked">
        <thead>
          <tr>
            {keys.map((key) => (
              <th key={key} scope="col">
                {keyParts(key).name}{' '}
                <span className="unit">{keyParts(key).unit && `[${keyParts(key).unit}]`}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.time_min}>
              {keys.map((key) => (
                <td key={key} data-label={withBrackets(key)}>
                  {shown(row[key])}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
});

function shown(value: number | string | null): string {
  if (typeof value === 'string') return value;
  return value === null ? 'none' : figure(value);
}

function withBrackets(key: string): string {
  const { name, unit } = keyParts(key);
  return unit === '' ? name : `${name} [${unit}]`;
}
