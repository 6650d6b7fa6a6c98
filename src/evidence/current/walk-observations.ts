/** What a voltage walk tells a plan: both sides of every edge, and the calmest step with its current. */
import type { Observation, RegimeSeen } from '../../core/window/index.ts';
import type { Regime } from './regimes.ts';
import type { CurrentSweep } from './voltage-sweep.ts';

/** As many rows as an observation document holds. */
const MOST_OBSERVATIONS = 50;

const SEEN: Partial<Record<Regime, RegimeSeen>> = {
  'no spray': 'no spray',
  'leak only': 'no spray',
  dripping: 'dripping',
  pulsating: 'pulsating',
  'intermittent bursts': 'pulsating',
  steady: 'steady',
  'unsteady jet': 'tilted',
  'several jets': 'several jets',
  discharge: 'discharge',
};

export function observationsOf(
  sweeps: readonly CurrentSweep[],
  voltage_at: 'supply' | 'tip' | 'not stated',
): Observation[] {
  const rows: Observation[] = [];
  for (const sweep of sweeps) {
    const steps = [...sweep.steps].sort((a, b) => a.voltage_V - b.voltage_V);
    steps.forEach((step, i) => {
      const edgeHere = steps[i - 1]?.regime !== step.regime || steps[i + 1]?.regime !== step.regime;
      const best = sweep.best?.voltage_V === step.voltage_V && step.regime === 'steady';
      const seen = SEEN[step.regime];
      if (seen === undefined || !(edgeHere || best)) return;
      const row: Observation =
        voltage_at === 'tip' ? { tip_V: step.voltage_V, seen } : { supply_V: step.voltage_V, seen };
      row.direction = sweep.direction;
      if (best) row.current_nA = Number(step.level_nA.value.toPrecision(4));
      const held = rows.some(
        (r) =>
          r.tip_V === row.tip_V &&
          r.supply_V === row.supply_V &&
          r.seen === row.seen &&
          r.direction === row.direction,
      );
      if (!held && rows.length < MOST_OBSERVATIONS) rows.push(row);
    });
  }
  return rows;
}
