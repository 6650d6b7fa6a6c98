/** The numbers that matter now, the ruler and the chances: of the set-up's liquid, or of the composition that is looked at. */
import { Button } from '@mantine/core';
import { pictureText, saveText } from '../save.ts';
import { useWidth } from '../use-width.ts';
import { given } from '../words.ts';
import { dischargeWords } from './advice.ts';
import { Chances } from './chances.tsx';
import { firstWords } from './next-sentence.tsx';
import { KeyNumbers } from './numbers.tsx';
import { rulerCsv } from './ruler-rows.ts';
import type { PlanDone, PlanState } from './use-plan.ts';
import { WindowRuler } from './window-ruler.tsx';

export function NumbersNow(props: { state: PlanState; done: PlanDone; isFirst: boolean }) {
  const { state, done, isFirst } = props;
  const { ref, width } = useWidth();
  const { setup } = done;
  const plan = state.look?.plan ?? done.plan;
  // At a composition that is looked at the gradient has no say.
  const pending = isFirst
    ? 'follows with the last solves'
    : done.gradientLeft && state.look === undefined
      ? 'follows with the gradient'
      : undefined;
  const ruler = () => document.querySelector<SVGSVGElement>('.numbers svg[data-view="window"]') ?? undefined;
  return (
    <>
      <h2>The numbers that matter now</h2>
      {state.look && (
        <p data-organic={state.look.organic}>At {given(state.look.organic)} % organic at the tip.</p>
      )}
      {state.stale && (
        <p className="stale" data-note="standing">
          {noteWords(state, done)}
        </p>
      )}
      <KeyNumbers plan={plan} pending={pending} />
      <figure className="sheet">
        <div ref={ref}>
          {width > 0 && <WindowRuler plan={plan} setup={setup} width={Math.round(width)} pending={pending} />}
        </div>
        <figcaption>
          Volts between tip and inlet. Each line spans about four in five of belief. The window's far end:{' '}
          {plan.window_high_V.basis}. {dischargeWords(plan, setup.polarity)}
        </figcaption>
      </figure>
      <div className="row" style={{ marginTop: '0.75rem' }}>
        <Button
          variant="default"
          disabled={state.stale}
          onClick={() => {
            const drawing = ruler();
            if (drawing)
              saveText('steadycone-window.svg', 'image/svg+xml', pictureText([drawing], 'Window at the tip'));
          }}
        >
          Window as SVG
        </Button>
        <Button
          variant="default"
          disabled={state.stale}
          onClick={() => saveText('steadycone-window.csv', 'text/csv', rulerCsv(plan, setup))}
        >
          Window as CSV
        </Button>
      </div>
      <Chances plan={plan} pending={pending} />
    </>
  );
}

function noteWords({ standing }: PlanState, { solvesLeft }: PlanDone): string {
  if (standing === 'first estimate') return firstWords(solvesLeft);
  return standing === 'faulty' ? 'Of the last faultless values.' : 'Of the values before; being computed….';
}
