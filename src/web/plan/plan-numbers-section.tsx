/** Everything under the picture: numbers, window, chances, warnings, gradient, calibration, comparison, how to start. */
import { Sentences } from '../sentences.tsx';
import { useWidth } from '../use-width.ts';
import { CalibrationPanel, type CalibrationPanelProps } from './calibration-panel.tsx';
import { Chances } from './chances.tsx';
import { Compare, type CompareProps } from './compare.tsx';
import { GradientSection } from './gradient-section.tsx';
import { KeyNumbers, Ledger, Sources } from './numbers.tsx';
import { Sequence } from './sequence.tsx';
import type { PlanState } from './use-plan.ts';
import { WindowRuler } from './window-ruler.tsx';

export interface PlanNumbersProps
  extends Pick<CompareProps, 'aside' | 'onAside'>,
    Pick<CalibrationPanelProps, 'observations'> {
  state: PlanState;
  onObservations: CalibrationPanelProps['onChange'];
}

export function PlanNumbers({ state, aside, onAside, observations, onObservations }: PlanNumbersProps) {
  const ruler = useWidth();
  const { done } = state;
  if (!done) return <section className="numbers" aria-label="Numbers" ref={ruler.ref} />;
  const { plan, setup } = done;
  return (
    <section
      className={`numbers${state.stale ? ' stale' : ''}`}
      aria-label="Numbers"
      data-stale={state.stale}
    >
      <h2>The numbers that matter now</h2>
      <KeyNumbers plan={plan} />
      <figure className="sheet">
        <div ref={ruler.ref}>
          {ruler.width > 0 && <WindowRuler plan={plan} setup={setup} width={Math.round(ruler.width)} />}
        </div>
        <figcaption>
          Volts between tip and inlet. Each line spans about four in five of belief. The window's far end:{' '}
          {plan.window_high_V.basis}.
        </figcaption>
      </figure>
      <Chances plan={plan} />
      <Sentences title="Warnings" lines={plan.warnings} />
      <Sentences
        title="What would narrow the answers most"
        lines={[
          ...new Set(
            plan.sensitivities.flatMap(({ limited_by }) =>
              limited_by.slice(0, 1).map(({ sentence }) => sentence),
            ),
          ),
        ]}
      />
      {plan.cautions.length > 0 && (
        <div className="section caution" id="cautions">
          <h2>High voltage: before you touch anything</h2>
          <ul>
            {plan.cautions.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </div>
      )}
      {plan.gradient && <GradientSection plan={plan} gradient={plan.gradient} stale={done.gradientStale} />}
      <CalibrationPanel
        observations={observations}
        onChange={onObservations}
        calibration={plan.calibration}
      />
      <Compare now={done} aside={aside} onAside={onAside} />
      <Sequence title="To start" steps={plan.sequence.start} />
      <Sequence title="To park" steps={plan.sequence.park} />
      <div className="section">
        <h2>All numbers, with range, basis and validity</h2>
        <Ledger plan={plan} />
        <Sources plan={plan} />
      </div>
      <Sentences title="What is not known" lines={plan.not_known} />
    </section>
  );
}
