import { useDocumentTitle } from '@mantine/hooks';
import { useCallback, useMemo, useState } from 'react';
import { DraftContext, type SetupDraft, withValue } from './draft.ts';
import { exampleSetup } from './example-setup.ts';
import { faultWords, fieldId } from './fields.tsx';
import { draftIn, draftText, observationsIn, observationsText } from './plan-address.ts';
import { PlanNumbers } from './plan-numbers-section.tsx';
import { PlanPicture } from './plan-picture.tsx';
import { SetupForm } from './setup-form.tsx';
import { SetupLoader } from './setup-loader.tsx';
import type { Planned } from './tip-picture.ts';
import { useAddressed } from './use-addressed.ts';
import { type PlanState, usePlan } from './use-plan.ts';

export function PlanPage() {
  useDocumentTitle('Plan · Steadycone');
  const [draft, replace] = useAddressed('s', draftIn, draftText);
  const [observations, setObservations] = useAddressed('o', observationsIn, observationsText);
  const [isSibling, setSibling] = useState(false);
  const sibling = isSibling && observations.length > 0;
  const seen = useMemo(() => ({ observations, sibling }), [observations, sibling]);
  const [volts, setVolts] = useState<number>();
  const [organic, setOrganic] = useState<number>();
  const [aside, setAside] = useState<Planned>();
  const composition = draft.gradient === undefined ? undefined : organic;
  const state = usePlan(draft, seen, composition);
  const set = useCallback(
    (path: string, value: unknown) => replace((now) => withValue(now, path, value)),
    [replace],
  );
  const load = useCallback(({ document }: { document: SetupDraft }) => replace(document), [replace]);
  const desk = useMemo(
    () => ({ draft, replace, set, faults: state.faults }),
    [draft, replace, set, state.faults],
  );
  const invented = draft.name === exampleSetup.name;
  return (
    <DraftContext value={desk}>
      <div className="headline">
        <h1 tabIndex={-1}>Plan</h1>
        {invented && <span className="stamp">an invented example: put your own values in</span>}
      </div>
      <div className="plan">
        <div className="picture">
          <PlanPicture
            state={state}
            draft={draft}
            look={{ volts, setVolts, organic: composition, setOrganic }}
            seen={seen}
          />
        </div>
        <section className="form" aria-label="Set-up">
          <FaultList state={state} />
          <SetupLoader
            pasteLabel="Load a set-up (YAML or JSON)"
            fileLabel="Set-up file"
            buttonLabel="Use this text"
            onSetup={load}
          />
          <SetupForm />
        </section>
        <PlanNumbers
          state={state}
          aside={aside}
          onAside={setAside}
          seen={seen}
          onObservations={setObservations}
          onSibling={setSibling}
        />
      </div>
    </DraftContext>
  );
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
