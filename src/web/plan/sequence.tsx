import { memo } from 'react';
import type { SequenceStep } from '../../core/plan/index.ts';

/** Steps at the bench, each with what to expect and its caution. */
export const Sequence = memo(function Sequence({
  title,
  steps,
}: {
  title: string;
  steps: readonly SequenceStep[];
}) {
  return (
    <div className="section">
      <h2>{title}</h2>
      <ol className="sequence">
        {steps.map((step) => (
          <li key={step.title}>
            <strong>{step.title}</strong>
            {step.asks_for_yes && ' (asks for your yes, hands clear)'}: {step.action}
            {step.expect !== undefined && (
              <>
                <br />
                Expect: {step.expect}
              </>
            )}
            <br />
            <strong>Caution:</strong> {step.caution}
          </li>
        ))}
      </ol>
    </div>
  );
});
