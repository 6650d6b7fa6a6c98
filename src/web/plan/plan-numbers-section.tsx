/** Everything under the picture: numbers, window, chances, warnings, gradient, calibration, comparison, how to start. */
import { Sentences } from '../sentences.tsx';
import { CalibrationPanel, type CalibrationPanelProps } from './calibration-panel.tsx';
import { Compare, type CompareProps } from './compare.tsx';
import { GradientSection } from './gradient-section.tsx';
import { Ledger, Sources } from './numbers.tsx';
import { NumbersNow } from './numbers-now.tsx';
import { Sequence } from './sequence.tsx';
import type { PlanState } from './use-plan.ts';

export interface PlanNumbersProps
  extends Pick<CompareProps, 'aside' | 'onAside'>,
    Pick<CalibrationPanelProps, 'seen' | 'onSibling'> {
  state: PlanState;
  onObservations: CalibrationPanelProps['onChange'];
}

export function PlanNumbers({ state, aside, onAside, seen, onObservations, onSibling }: PlanNumbersProps) {
  const { done, standing } = state;
  if (!done) return <section className="numbers" aria-label="Numbers" />;
  const { plan } = done;
  const isFirst = standing === 'first estimate';
  return (
    <section
      className={`numbers${state.stale && !isFirst ? ' stale' : ''}`}
      aria-label="Numbers"
      data-stale={state.stale}
      data-standing={standing}
    >
      <NumbersNow state={state} done={done} isFirst={isFirst} />
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
      {done.along && <GradientSection {...done.along} />}
      <CalibrationPanel
        seen={seen}
        onSibling={onSibling}
        onChange={onObservations}
        calibration={plan.calibration}
      />
      <Compare now={done} stale={state.stale} aside={aside} onAside={onAside} planOther={state.planOther} />
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
