import './explain.css';
import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useState } from 'react';
import { Link } from 'wouter';
import { STOP_RULE } from '../../core/causes/index.ts';
import { saveJson } from '../save.ts';
import { CauseList } from './cause-list.tsx';
import { guideHref, withAnswer, withCannot, without } from './explain-address.ts';
import { readLog } from './guide-log.ts';
import { PeriodPart } from './period-part.tsx';
import { PlacePicture } from './place-picture.tsx';
import { QuestionCard } from './question-card.tsx';
import { saveGuide } from './save-guide.ts';
import { SourcesPart } from './sources-part.tsx';
import { useExplain } from './use-explain.ts';
import { WhyPart } from './why-part.tsx';

export function ExplainPage() {
  const { state, explained, change } = useExplain();
  const [chosen, setChosen] = useState<string | undefined>();
  useDocumentTitle(`Explain${state.reading ? ` ${state.reading}` : ''} · Steadycone`);
  const data = explained.data;
  const answer = (observable: string, outcome: string) => {
    setChosen(undefined);
    change(withAnswer(state, observable, outcome));
  };
  const cannot = (observable: string) => {
    setChosen(undefined);
    change(withCannot(state, observable));
  };
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Explain</h1>
        {data?.file != null && state.reading !== undefined && (
          <Link className="target" href={`/read/${state.reading}`}>
            {data.file}
          </Link>
        )}
        {data?.invented && <span className="stamp">INVENTED DATA</span>}
      </div>
      {explained.isPending && <p role="status">Asking the catalogue.</p>}
      {explained.isError && <p className="fault">{explained.error.message}</p>}
      {data && !explained.isError && (
        <>
          {data.nothing_wrong !== null && <p className="next">{data.nothing_wrong}</p>}
          <p className="verdict" role="status">
            {data.ranked.sentence}
          </p>
          <div className="explain">
            <QuestionCard
              explained={data}
              chosen={chosen}
              onChoose={setChosen}
              onAnswer={answer}
              onCannot={cannot}
              busy={explained.isPlaceholderData}
              guide={(test) => guideHref(state, test)}
            />
            <PlacePicture explained={data} />
          </div>
          <div className="row" style={{ marginTop: '1rem' }}>
            <Button component={Link} href={guideHref(state)}>
              Guide me, one step at a time
            </Button>
            <Button variant="default" onClick={() => saveGuide(data, state, readLog(state.reading))}>
              Guide as HTML
            </Button>
            <Button variant="default" onClick={() => saveJson('explanation.json', data)}>
              Explanation as JSON
            </Button>
            {(state.answers.length > 0 || state.cannot.length > 0) && (
              <Button variant="default" onClick={() => change({ ...state, answers: [], cannot: [] })}>
                Take all answers back
              </Button>
            )}
          </div>
          <div className="beside section">
            <CauseList explained={data} state={state} />
            <div>
              <WhyPart explained={data} state={state} onTakeBack={(id) => change(without(state, id))} />
            </div>
          </div>
          <p className="caution">{STOP_RULE}</p>
        </>
      )}
      <SourcesPart state={state} explained={data} onChange={change} />
      <PeriodPart period_s={undefined} />
    </>
  );
}
