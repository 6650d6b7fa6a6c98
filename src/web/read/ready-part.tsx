import { useMemo } from 'react';
import { readiness } from '../../evidence/queue/ready.ts';
import type { RunReading } from '../../evidence/run-reading.ts';

/** The end of the run read as a test before a queue: asked for, since the end of a gradient answers another question. */
export function ReadyPart({ reading }: { reading: RunReading }) {
  const ready = useMemo(() => readiness(reading), [reading]);
  return (
    <details className="section">
      <summary>Was this a test before a queue? Its last minutes say whether to start</summary>
      <p>
        <strong>{ready.sentence}</strong>
      </p>
      <ul>
        {ready.reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
      <p>What the words mean here:</p>
      <ul>
        {Object.entries(ready.definitions).map(([state, meaning]) => (
          <li key={state}>
            {state}: {meaning}
          </li>
        ))}
      </ul>
      <p className="soft">
        Read it at start conditions with nothing injected; it says nothing of other compositions of the
        gradient. Before touching anything at the tip: voltage off, wait, ground the tip, and keep to the
        rules of your lab.
      </p>
    </details>
  );
}
