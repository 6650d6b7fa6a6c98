/** The middle of the page: gap, tip at the chosen voltage, the apex curve it is chosen on, and what to do next. */
import { Button } from '@mantine/core';
import { useRef } from 'react';
import { outlineAt } from '../../core/plan/index.ts';
import { planCsv } from '../../core/plan/plan-csv.ts';
import type { Observation } from '../../core/window/index.ts';
import { pictureText, saveJson, saveText } from '../save.ts';
import { useWidth } from '../use-width.ts';
import { figure, withUnit } from '../words.ts';
import { ApexCurve } from './apex-curve.tsx';
import { type SetupDraft, useDraft } from './draft.ts';
import { GapView } from './gap-view.tsx';
import { KeepPlan } from './keep-plan.tsx';
import { TipView, tipShape } from './tip-view.tsx';
import type { PlanState } from './use-plan.ts';

export interface Look {
  /** Tip voltage of the picture; undefined follows the plan. */
  volts: number | undefined;
  setVolts: (volts: number) => void;
  /** Onset and edges at the composition of the slider, as factors on the plan's own. */
  onsetFactor: number;
}

export function PlanPicture(props: {
  state: PlanState;
  draft: SetupDraft;
  look: Look;
  observations: readonly Observation[];
}) {
  const { state, draft, look } = props;
  const { set } = useDraft();
  const gap = useWidth();
  const tip = useWidth();
  const curve = useWidth();
  const views = useRef<HTMLDivElement>(null);
  const { done } = state;
  const setup = state.drawn ?? done?.setup;
  const tall = Math.round(Math.min(400, Math.max(270, 0.72 * Math.max(gap.width, tip.width))));
  const volts = look.volts ?? done?.plan.tip_V?.value ?? done?.plan.advised_V.value ?? 0;
  const onset_V =
    (done?.plan.meniscus.kind === 'solved' ? done.plan.meniscus.onset_V : (done?.plan.onset_V.value ?? 1)) *
    look.onsetFactor;
  // A dragged rim is drawn at once; the solved outline follows with its answer.
  const sameTip =
    done !== undefined &&
    setup !== undefined &&
    JSON.stringify(setup.emitter) === JSON.stringify(done.setup.emitter);
  const jet_um = done ? done.plan.jet_diameter_nm.value / 2000 : 0;
  const outline = sameTip && done?.shapes ? outlineAt(done.shapes, volts, onset_V, jet_um) : undefined;
  const shape = done && setup && tip.width > 0 ? tipShape(setup, done.plan, tip.width, tall) : undefined;
  const savePicture = () =>
    saveText(
      'steadycone-picture.svg',
      'image/svg+xml',
      pictureText(
        [...(views.current?.querySelectorAll<SVGSVGElement>('svg[data-view]') ?? [])],
        'Gap, tip and apex curve',
      ),
    );
  return (
    <section aria-label="Picture, to scale">
      <div ref={views}>
        <div className="views">
          <figure className="sheet">
            <div ref={gap.ref} style={{ minHeight: tall }}>
              {setup && gap.width > 0 && (
                <GapView
                  setup={setup}
                  width={Math.round(gap.width)}
                  height={tall}
                  onDistance={(mm) => set('inlet.distance_mm', mm)}
                />
              )}
            </div>
            <figcaption>
              To scale; drag the tip to set the distance. The frame A marks the tip, enlarged beside or below.
              The inlet's outer shape is not in the set-up.
            </figcaption>
          </figure>
          <figure className="sheet">
            <div ref={tip.ref} style={{ minHeight: tall }}>
              {setup && tip.width > 0 && (
                <TipView
                  setup={setup}
                  plan={done?.plan}
                  outline={outline}
                  width={Math.round(tip.width)}
                  height={tall}
                  onRim={(um) => set('emitter.rim_um', um)}
                  onTaper={(deg) => set('emitter.taper_half_angle_deg', deg)}
                />
              )}
            </div>
            <figcaption>
              To scale at {withUnit(figure(volts), 'V')}; drag rim and taper.{' '}
              {outline && !outline.composed
                ? 'The meniscus is the solved equilibrium.'
                : `The hatched liquid is composed, not solved: no static shape exists above the turning point${shape && shape.jetDrawn > 1 ? `; the jet is drawn ${figure(shape.jetDrawn, 2)} times its width, or no screen could show it` : ''}.`}
              {(setup?.emitter.inside ?? 'unknown') === 'unknown' &&
                ' The bore behind the tip is not stated: drawn straight.'}
            </figcaption>
          </figure>
        </div>
        <figure className="sheet" style={{ marginTop: '1rem' }}>
          <div ref={curve.ref} style={{ minHeight: 220 }}>
            {done && curve.width > 0 && (
              <ApexCurve
                plan={done.plan}
                onset_V={onset_V}
                volts={volts}
                onVolts={look.setVolts}
                width={Math.round(curve.width)}
                height={220}
              />
            )}
          </div>
          <figcaption>
            Choose the voltage of the picture on the curve: drag the ring, or use the arrow keys. The apex
            rises slowly and then all at once: the curve turns, and beyond it the meniscus ejects.
          </figcaption>
        </figure>
      </div>
      <NextSentence state={state} />
      <KeepPlan draft={draft} observations={props.observations} usable={done !== undefined && !state.stale} />
      <div className="row">
        <Button variant="default" onClick={savePicture} disabled={!done}>
          Picture as SVG
        </Button>
        <Button
          variant="default"
          disabled={!done}
          onClick={() => done && saveText('steadycone-numbers.csv', 'text/csv', planCsv(done.plan))}
        >
          Numbers as CSV
        </Button>
        <Button variant="default" onClick={() => saveJson('steadycone-setup.json', draft)}>
          Set-up as JSON
        </Button>
      </div>
    </section>
  );
}

function NextSentence({ state }: { state: PlanState }) {
  const { done } = state;
  return (
    <>
      <div aria-live="polite">
        {done && !state.stale && <p className="next">{done.plan.electric_state.sentence}</p>}
        {done && state.stale && (
          <p className="next stale">
            {state.faults.length > 0
              ? 'The picture and numbers belong to the last set-up without faults.'
              : 'Computing; the numbers belong to the previous values.'}
          </p>
        )}
        {!done && (
          <p className="next stale">
            {state.faults.length > 0
              ? 'No picture yet: the set-up has values that need another look.'
              : 'Computing the first plan.'}
          </p>
        )}
      </div>
      {done && done.plan.cautions.length > 0 && (
        <p>
          <strong>High voltage:</strong>{' '}
          <a className="target" href="#cautions">
            before you touch anything
          </a>
        </p>
      )}
      {done && (
        <p className={state.stale ? 'stale' : undefined}>
          <strong>Limited by:</strong> {done.plan.limited_by}
        </p>
      )}
    </>
  );
}
