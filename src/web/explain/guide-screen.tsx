/** One step of the guide: its heading takes the reader's place; a step with a touch waits behind its safe state. */
import { Button } from '@mantine/core';
import { useEffect, useRef, useState } from 'react';
import { GATE_STEPS, LOCAL_RULES, type SafetyGate } from '../../core/causes/index.ts';

export function Screen({ title, children }: { title: string; children: React.ReactNode }) {
  const heading = useRef<HTMLHeadingElement>(null);
  // Each step moves the reader's place to its heading, so that a screen reader and a tired eye begin there.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the title is the trigger
  useEffect(() => {
    heading.current?.focus();
    heading.current?.scrollIntoView({ block: 'nearest' });
  }, [title]);
  return (
    <section className="guide-step">
      <h1 tabIndex={-1} ref={heading}>
        {title}
      </h1>
      {children}
    </section>
  );
}

/** What must be safe first, one line at a time; the touch shows only after the last. */
export function Gated(props: {
  gate: SafetyGate;
  onDone: (what: string) => void;
  children: React.ReactNode;
}) {
  const steps = GATE_STEPS[props.gate];
  const [ticked, setTicked] = useState(0);
  const line = steps[ticked];
  if (line === undefined) return props.children;
  return (
    <Screen title={line}>
      <p>
        Before you touch anything: {ticked + 1} of {steps.length}.
      </p>
      <div className="answers">
        <Button
          onClick={() => {
            props.onDone(line);
            setTicked(ticked + 1);
          }}
        >
          Done
        </Button>
      </div>
      <p className="caution">{LOCAL_RULES}</p>
    </Screen>
  );
}
