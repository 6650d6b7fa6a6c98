/** One composition of the gradient, chosen by hand: onset and window there follow at once from the computed run. */
import type { GradientPlan } from '../../core/gradient/index.ts';
import { figure, withUnit } from '../words.ts';

export interface CompositionSliderProps {
  gradient: GradientPlan;
  organic: number | undefined;
  onOrganic: (organic: number | undefined) => void;
}

/** Middle onset and edges at a composition, by interpolation between the run's moments. */
export function atOrganic(gradient: GradientPlan, organic: number) {
  const order = gradient.organic_percent
    .map((percent, k) => ({ percent, k }))
    .sort((a, b) => a.percent - b.percent);
  const above = order.findIndex(({ percent }) => percent >= organic);
  const high = order[above === -1 ? order.length - 1 : above]!;
  const low = order[Math.max(0, above === -1 ? order.length - 1 : above - 1)]!;
  const span = high.percent - low.percent;
  const share = span > 0 ? Math.min(1, Math.max(0, (organic - low.percent) / span)) : 0;
  const of = (values: readonly number[]) => values[low.k]! + (values[high.k]! - values[low.k]!) * share;
  return {
    onset_V: of(gradient.onset_V.middle),
    steady_from_V: of(gradient.steady_from_V.middle),
    several_from_V: of(gradient.several_from_V.middle),
    current_nA: of(gradient.current_nA.middle),
    drop_V: of(gradient.ohmic_drop_V.middle),
  };
}

export function CompositionSlider({ gradient, organic, onOrganic }: CompositionSliderProps) {
  const [least, most] = [Math.min(...gradient.organic_percent), Math.max(...gradient.organic_percent)];
  const at = organic ?? least;
  const there = atOrganic(gradient, at);
  return (
    <div className="choose">
      <label htmlFor="organic">
        Organic at the tip: <strong>{figure(at)} %</strong>
        {organic === undefined ? ' (the picture shows the set-up’s own liquid)' : ''}
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
        <p style={{ margin: 0 }}>
          Onset {withUnit(figure(there.onset_V), 'V')}, steady from{' '}
          {withUnit(figure(there.steady_from_V), 'V')}, several jets from{' '}
          {withUnit(figure(there.several_from_V), 'V')} at the tip; {withUnit(figure(there.current_nA), 'nA')}
          , {withUnit(figure(there.drop_V), 'V')} lost in the liquid (middle values).{' '}
          <button type="button" className="link" onClick={() => onOrganic(undefined)}>
            back to the set-up's liquid
          </button>
        </p>
      )}
    </div>
  );
}
