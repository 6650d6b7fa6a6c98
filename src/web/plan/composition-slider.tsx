/**
 * One composition of the gradient, chosen by hand. The meniscus follows at once; numbers, ruler, chances and jet come from a plan
 * of their own at that composition.
 */
import { Button } from '@mantine/core';
import type { Estimate } from '../../core/estimate.ts';
import type { GradientPlan } from '../../core/gradient/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { GradientSpec } from '../../core/setup.ts';
import { figure, given, withUnit } from '../words.ts';

export interface CompositionSliderProps {
  gradient: GradientPlan;
  /** The bottles, to name the share of B. */
  spec: GradientSpec | undefined;
  /** The plan at the chosen composition; absent until it is there. */
  plan: Plan | undefined;
  /** Words until then. */
  waiting: string;
  organic: number | undefined;
  onOrganic: (organic: number | undefined) => void;
}

function thereWords(plan: Plan): string {
  const volts = (e: Estimate) => withUnit(figure(e.value), 'V');
  const { start_of_steady_V, several_jets_V } = plan.window;
  return `Onset ${volts(plan.onset_V)}, steady from ${volts(start_of_steady_V)}, several jets from ${volts(several_jets_V)} at the tip; ${withUnit(figure(plan.current_nA.value), 'nA')}, ${volts(plan.ohmic_drop_V)} lost in the liquid (middle values).`;
}

function shareOfB(spec: GradientSpec, organic: number): number {
  const { bottle_A_organic_percent: a, bottle_B_organic_percent: b } = spec;
  return b === a ? 0 : (100 * (organic - a)) / (b - a);
}

export function CompositionSlider({
  gradient,
  spec,
  plan,
  waiting,
  organic,
  onOrganic,
}: CompositionSliderProps) {
  const [least, most] = [Math.min(...gradient.organic_percent), Math.max(...gradient.organic_percent)];
  const at = organic ?? least;
  return (
    <div className="choose">
      <label htmlFor="organic">
        Organic at the tip: <strong>{given(at)} %</strong>
        {spec && ` (${given(shareOfB(spec, at), 3)} % B)`}
        {organic === undefined ? '; the picture shows the set-up’s own liquid until you move it' : ''}
      </label>
      <input
        id="organic"
        type="range"
        min={least}
        max={most}
        step={0.5}
        value={at}
        onChange={(event) => onOrganic(Number(event.currentTarget.value))}
      />
      {organic !== undefined && (
        <>
          <p style={{ margin: 0, minHeight: '3em' }} data-organic-at={plan === undefined ? '' : at}>
            {plan === undefined ? waiting : thereWords(plan)}
          </p>
          <div className="row">
            <Button variant="default" onClick={() => onOrganic(undefined)}>
              Back to the set-up's liquid
            </Button>
          </div>
        </>
      )}
    </div>
  );
}
