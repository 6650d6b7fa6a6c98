import { GATE_STEPS, LOCAL_RULES, type SafetyGate } from '../../core/causes/index.ts';

/** What is done before the hand or the knob moves; nothing where only eyes are used. */
export function GateSteps({ gate }: { gate: SafetyGate }) {
  const steps = GATE_STEPS[gate];
  if (steps.length === 0) return null;
  return (
    <div className="caution gate">
      <strong>First:</strong>
      <ol>
        {steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <p className="soft">{LOCAL_RULES}</p>
    </div>
  );
}
