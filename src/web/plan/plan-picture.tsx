/** The middle of the page: gap, tip at the chosen voltage and composition, the apex curve, and what to do next. */
import { type RefObject, useCallback, useMemo, useRef } from 'react';
import { liquidProperties } from '../../core/liquid/index.ts';
import { setupAtOrganic } from '../../core/plan/gradient.ts';
import type { Setup } from '../../core/setup.ts';
import { useWidth } from '../use-width.ts';
import { figure, given, withUnit } from '../words.ts';
import { ApexCurve } from './apex-curve.tsx';
import { CompositionSlider } from './composition-slider.tsx';
import { type SetupDraft, useDraft } from './draft.ts';
import { GapView } from './gap-view.tsx';
import { KeepPlan } from './keep-plan.tsx';
import { NextSentence } from './next-sentence.tsx';
import { PictureExports, type Shown } from './picture-exports.tsx';
import type { Seen } from './seen.ts';
import { tipFrame } from './tip-frame.ts';
import { jetDrawn } from './tip-liquid.tsx';
import { type TipPicture, tipPicture } from './tip-picture.ts';
import { TipView } from './tip-view.tsx';
import type { PlanDone, PlanState } from './use-plan.ts';

export interface Look {
  /** Tip voltage of the picture; undefined follows the plan. */
  volts: number | undefined;
  setVolts: (volts: number) => void;
  /** Composition of the picture [%]; undefined is the set-up's own liquid. */
  organic: number | undefined;
  setOrganic: (organic: number | undefined) => void;
}

export function PlanPicture(props: { state: PlanState; draft: SetupDraft; look: Look; seen: Seen }) {
  const { state, draft, look } = props;
  const { set } = useDraft();
  const gap = useWidth();
  const tip = useWidth();
  const curve = useWidth();
  const views = useRef<HTMLDivElement>(null);
  const followed = useRef<number | undefined>(undefined);
  const setDistance = useCallback((mm: number) => set('inlet.distance_mm', mm), [set]);
  const { done, standing } = state;
  const setup = state.drawn ?? done?.setup;
  const tall = Math.round(Math.min(400, Math.max(270, 0.72 * Math.max(gap.width, tip.width))));
  const volts = look.volts ?? settled(done, followed);
  const onset_V = useMemo(() => shownOnset(done, look.organic), [done, look.organic]);
  const gradient = done?.along?.gradient;
  const jet_nm = (state.look?.plan ?? done?.plan)?.jet_diameter_nm.value ?? 0;
  const picture = done && setup ? tipPicture({ setup, done, standing, volts, onset_V, jet_nm }) : undefined;
  const shown = useRef<Shown | undefined>(undefined);
  shown.current =
    done && setup && picture && !state.stale
      ? { plan: done.plan, setup, tip: picture, volts, onset_V }
      : undefined;
  return (
    <section aria-label="Picture, to scale">
      <div ref={views}>
        <div className="views">
          <figure className="sheet">
            <div ref={gap.ref} style={{ minHeight: tall }}>
              {setup && gap.width > 0 && (
                <GapView setup={setup} width={Math.round(gap.width)} height={tall} onDistance={setDistance} />
              )}
            </div>
            <figcaption>
              To scale; drag the tip to set the distance. The frame A marks the tip, enlarged beside or below.
              The inlet's outer shape is not in the set-up.
            </figcaption>
          </figure>
          <figure className="sheet" data-truth={picture?.truth}>
            <div ref={tip.ref} style={{ minHeight: tall }}>
              {setup && tip.width > 0 && (
                <TipView
                  setup={setup}
                  picture={picture}
                  width={Math.round(tip.width)}
                  height={tall}
                  onRim={(um) => set('emitter.rim_um', um)}
                  onTaper={(deg) => set('emitter.taper_half_angle_deg', deg)}
                />
              )}
            </div>
            <figcaption>
              To scale at {withUnit(figure(volts), 'V')}
              {look.organic === undefined ? '' : ` and ${given(look.organic)} % organic`}; drag rim and taper.{' '}
              {picture?.reason ?? 'Being solved….'}
              {picture && setup && jetWords(picture, tipFrame(setup, tip.width, tall).perUm)}
              {(setup?.emitter.inside ?? 'unknown') === 'unknown' &&
                ' The bore behind the tip is not stated: drawn straight.'}
            </figcaption>
          </figure>
        </div>
        {gradient && (
          <CompositionSlider
            gradient={gradient}
            spec={done?.setup.gradient}
            waiting={standing === 'faulty' ? 'Waits until the faults are mended.' : 'Being computed…'}
            plan={state.look?.organic === look.organic ? state.look?.plan : undefined}
            organic={look.organic}
            onOrganic={look.setOrganic}
          />
        )}
        <figure className="sheet" style={{ marginTop: '1rem' }}>
          <div ref={curve.ref} style={{ minHeight: 220 }}>
            {done && curve.width > 0 && (
              <ApexCurve
                plan={done.plan}
                onset_V={onset_V}
                volts={volts}
                onVolts={look.setVolts}
                pending={picture?.grey === true ? picture.label : undefined}
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
      <NextSentence state={state} volts={volts} />
      <KeepPlan draft={draft} seen={props.seen} usable={done !== undefined && !state.stale} />
      <PictureExports isReady={shown.current !== undefined} shown={shown} draft={draft} views={views} />
    </section>
  );
}

/** The plan's own tip voltage; a first estimate's best voltage is still to move, so the one before stands meanwhile. */
function settled(done: PlanDone | undefined, followed: RefObject<number | undefined>): number {
  const own = done?.plan.tip_V?.value ?? done?.plan.advised_V.value;
  if (done?.solvesLeft === 0 || followed.current === undefined) followed.current = own;
  return followed.current ?? 0;
}

/** Onset of the meniscus at the composition that is shown: the shapes depend on V/√γ alone, so no solve is needed. */
function shownOnset(done: PlanDone | undefined, organic: number | undefined): number {
  if (done === undefined) return 1;
  const { plan, setup } = done;
  const own = plan.meniscus.kind === 'solved' ? plan.meniscus.onset_V : plan.onset_V.value;
  if (organic === undefined || setup.gradient === undefined) return own;
  const tension = (at: Setup) => liquidProperties(at.liquid).surface_tension_mN_m.value;
  return own * Math.sqrt(tension(setupAtOrganic(setup, setup.gradient, organic)) / tension(setup));
}

function jetWords({ jet_nm }: TipPicture, perUm: number): string {
  if (jet_nm === undefined || !(perUm > 0)) return '';
  const times = jetDrawn(jet_nm, perUm);
  const wide = ` The jet is ${withUnit(figure(jet_nm), 'nm')} wide`;
  return times > 1
    ? `${wide}, drawn ${figure(times, 2)} times that, or no screen could show it.`
    : `${wide}.`;
}
