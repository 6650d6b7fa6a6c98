import { Button } from '@mantine/core';
import { useState } from 'react';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { outcomeWords, questionOf } from './answer-words.ts';
import { movedWords } from './belief-words.ts';
import type { ExplainState } from './explain-address.ts';

/** Observations beyond this many are listed on demand. */
const SHOWN = 6;

/** Which observation moved what, strongest first, each with where it comes from; the person's own can be taken back. */
export function WhyPart(props: {
  explained: Explained;
  state: ExplainState;
  onTakeBack: (observable: string) => void;
}) {
  const { ranked, findings, inference } = props.explained;
  const first = ranked.causes[0]?.name ?? '';
  const own = new Map(props.state.answers.map(({ observable, outcome }) => [observable, outcome]));
  const [all, setAll] = useState(false);
  const shown = all ? ranked.why : ranked.why.slice(0, SHOWN);
  return (
    <section aria-labelledby="why">
      <h2 id="why">Why</h2>
      {ranked.why.length === 0 && <p>Nothing yet: answer a question, or choose a reading below.</p>}
      <ul className="plain why">
        {shown.map(({ observable, question: words, answer, bits_first_over_rest: bits }) => {
          const mine = own.get(observable);
          const found = findings.find((one) => one.observable === observable);
          return (
            <li key={observable}>
              <span>
                {words} <strong>{answer}</strong>
              </span>
              <span>
                {movedWords(bits, first)} <span className="soft">({bits.toFixed(1)} bit)</span>
              </span>
              <span className="soft">
                {found?.sentence}
                {mine !== undefined &&
                  `${found ? ' And you: ' : 'Your answer: '}${outcomeWords(observable, mine)}.`}
              </span>
              {mine !== undefined && (
                <Button variant="default" onClick={() => props.onTakeBack(observable)}>
                  Take back
                </Button>
              )}
            </li>
          );
        })}
      </ul>
      {shown.length < ranked.why.length && (
        <Button variant="default" onClick={() => setAll(true)}>
          All {ranked.why.length} observations
        </Button>
      )}
      {ranked.remarks.map((remark) => (
        <p key={remark}>{remark}</p>
      ))}
      {inference && <p className="caution">{inference}</p>}
      {props.state.cannot.length > 0 && (
        <>
          <h3>You cannot see</h3>
          <ul className="plain why">
            {props.state.cannot.map((id) => (
              <li key={id}>
                <span>{questionOf(id)}</span>
                <Button variant="default" onClick={() => props.onTakeBack(id)}>
                  Take back
                </Button>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
