import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useMutation } from '@tanstack/react-query';
import { useEffect, useMemo, useRef, useState } from 'react';
import { Link, useSearchParams } from 'wouter';
import { fromAddress, toAddress } from '../address.ts';
import { keepPlan } from '../api.ts';
import { pictureText, saveJson, saveText } from '../save.ts';
import { Sentences } from '../sentences.tsx';
import { useWidth } from '../use-width.ts';
import { WhoField } from '../who-field.tsx';
import { figure } from '../words.ts';
import { DraftContext, type SetupDraft, withValue } from './draft.ts';
import { exampleSetup } from './example-setup.ts';
import { faultWords, fieldId } from './fields.tsx';
import { GapView } from './gap-view.tsx';
import { GradientTable, KeyNumbers, Ledger, Sources } from './numbers.tsx';
import { numbersCsv } from './plan-numbers.ts';
import { SetupForm } from './setup-form.tsx';
import { TipView, tipShape } from './tip-view.tsx';
import { type PlanState, usePlan } from './use-plan.ts';
import { WindowRuler } from './window-ruler.tsx';

export function PlanPage() {
  useDocumentTitle('Plan · Steadycone');
  const [draft, replace] = useAddressedDraft();
  const state = usePlan(draft);
  const desk = useMemo(
    () => ({
      draft,
      replace,
      set: (path: string, value: unknown) => replace((now) => withValue(now, path, value)),
      faults: state.faults,
    }),
    [draft, replace, state.faults],
  );
  const invented = draft.name === exampleSetup.name;
  return (
    <DraftContext value={desk}>
      <div className="headline">
        <h1 tabIndex={-1}>Plan</h1>
        {invented && <span className="stamp">an invented example: put your own values in</span>}
      </div>
      <div className="plan">
        <Picture state={state} draft={draft} />
        <section className="form" aria-label="Set-up">
          <FaultList state={state} />
          <SetupForm />
        </section>
        <Numbers state={state} />
      </div>
    </DraftContext>
  );
}

type Replace = (next: SetupDraft | ((now: SetupDraft) => SetupDraft)) => void;

/** The draft lives in the address (`?s=`): a link, a reload or the back button brings it back. */
function useAddressedDraft(): [SetupDraft, Replace] {
  const [search, setSearch] = useSearchParams();
  const inAddress = search.get('s') ?? '';
  const [draft, replace] = useState<SetupDraft>(() => fromAddress(inAddress) ?? exampleSetup);
  const written = useRef(inAddress);
  useEffect(() => {
    if (inAddress === written.current) return;
    written.current = inAddress;
    replace(fromAddress(inAddress) ?? exampleSetup);
  }, [inAddress]);
  useEffect(() => {
    const text = toAddress(draft);
    if (text === written.current || (written.current === '' && draft === exampleSetup)) return;
    // Browsers refuse floods of address changes, so wait out the typing.
    const timer = setTimeout(() => {
      written.current = text;
      setSearch({ s: text }, { replace: true });
    }, 200);
    return () => clearTimeout(timer);
  }, [draft, setSearch]);
  return [draft, replace];
}

function FaultList({ state }: { state: PlanState }) {
  return (
    <div aria-live="polite">
      {state.faults.length > 0 && (
        <div className="caution" style={{ marginBottom: '1.25rem' }}>
          <h2>
            {state.faults.length === 1 ? 'One value needs' : `${state.faults.length} values need`} another
            look
          </h2>
          <ul>
            {state.faults.map((fault) => (
              <li key={`${fault.where} ${fault.expected}`}>
                <a className="target" href={`#${fieldId(fault.where)}`}>
                  {fault.where}
                </a>{' '}
                {faultWords(fault)}
              </li>
            ))}
          </ul>
        </div>
      )}
      {state.trouble && <p className="fault">The plan could not be computed: {state.trouble}</p>}
    </div>
  );
}

function Picture({ state, draft }: { state: PlanState; draft: SetupDraft }) {
  const gap = useWidth();
  const tip = useWidth();
  const views = useRef<HTMLDivElement>(null);
  const { done } = state;
  const tall = Math.round(Math.min(400, Math.max(270, 0.72 * Math.max(gap.width, tip.width))));
  const exportPicture = () => {
    const drawings = [...(views.current?.querySelectorAll<SVGSVGElement>('svg') ?? [])];
    saveText(
      'steadycone-picture.svg',
      'image/svg+xml',
      pictureText(drawings, 'The gap and the tip, to scale'),
    );
  };
  const shape = done && tip.width > 0 ? tipShape(done.setup, done.plan, tip.width, tall) : undefined;
  return (
    <section className="picture" aria-label="Picture, to scale">
      <div className="views" ref={views}>
        <figure className="sheet">
          <div ref={gap.ref} style={{ minHeight: tall }}>
            {done && gap.width > 0 && (
              <GapView setup={done.setup} width={Math.round(gap.width)} height={tall} />
            )}
          </div>
          {done && (
            <figcaption>
              To scale. The frame A marks the tip, enlarged beside or below. The inlet's outer shape is not in
              the set-up.
            </figcaption>
          )}
        </figure>
        <figure className="sheet">
          <div ref={tip.ref} style={{ minHeight: tall }}>
            {done && tip.width > 0 && (
              <TipView setup={done.setup} plan={done.plan} width={Math.round(tip.width)} height={tall} />
            )}
          </div>
          {done && (
            <figcaption>
              To scale. The hatched liquid is composed, not solved
              {shape?.hasCone
                ? `: a cone of half-angle 49.3° on the contact line (dots)${shape.jetDrawn > 1 ? `; the jet is drawn ${figure(shape.jetDrawn, 2)} times its width, or no screen could show it` : ', with the jet of the computed width'}.`
                : ': a rounded cap, since no steady cone-jet is expected here.'}
              {(done?.setup.emitter.inside ?? 'unknown') === 'unknown' &&
                ' The bore behind the tip is not stated: drawn straight.'}
            </figcaption>
          )}
        </figure>
      </div>
      <div aria-live="polite">
        {done && !state.stale && <p className="next">{done.plan.electric_state.sentence}</p>}
        {done && state.stale && (
          <p className="next stale">
            {state.faults.length > 0
              ? 'The picture and numbers belong to the last set-up without faults.'
              : 'Computing; the picture and numbers belong to the previous values.'}
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
      <KeepPlan draft={draft} usable={done !== undefined && !state.stale} />
      <div className="row">
        <Button variant="default" onClick={exportPicture} disabled={!done}>
          Picture as SVG
        </Button>
        <Button
          variant="default"
          disabled={!done}
          onClick={() => done && saveText('steadycone-numbers.csv', 'text/csv', numbersCsv(done.plan))}
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

function KeepPlan({ draft, usable }: { draft: SetupDraft; usable: boolean }) {
  const [who, setWho] = useState('');
  const keep = useMutation({ mutationFn: () => keepPlan(draft, who.trim()) });
  return (
    <div className="row" style={{ alignItems: 'flex-end', marginBottom: '0.75rem' }}>
      <WhoField w={270} value={who} onChange={setWho} />
      <Button onClick={() => keep.mutate()} disabled={!usable} loading={keep.isPending}>
        Keep this plan
      </Button>
      <span role="status">
        {keep.isSuccess && (
          <>
            Kept as <Link href={`/bench/${keep.data.plan_id}`}>{keep.data.plan_id}</Link>.
          </>
        )}
        {keep.isError && <span className="fault">Not kept: {keep.error.message}</span>}
      </span>
    </div>
  );
}

function Numbers({ state }: { state: PlanState }) {
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
      <Sentences title="Warnings" lines={plan.warnings} />
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
      {plan.along_gradient.length > 0 && (
        <div className="section">
          <h2>Along the gradient</h2>
          <GradientTable plan={plan} />
        </div>
      )}
      <div className="section">
        <h2>All numbers, with range, basis and validity</h2>
        <Ledger plan={plan} />
        <Sources plan={plan} />
      </div>
      <Sentences title="What is not known" lines={plan.not_known} />
    </section>
  );
}
