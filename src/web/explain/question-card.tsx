import { Link } from 'wouter';
import { OBSERVABLES } from '../../core/causes/index.ts';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { AnswerButtons } from './answer-buttons.tsx';
import { GateSteps } from './gate-steps.tsx';

const OTHERS = 4;

/** The next test: what to do, what is safe first, and its answers. */
export function QuestionCard(props: {
  explained: Explained;
  chosen: string | undefined;
  onChoose: (observable: string | undefined) => void;
  onAnswer: (observable: string, outcome: string) => void;
  onCannot: (observable: string) => void;
  busy: boolean;
  /** Address of the guide at a test. */
  guide: (test: string) => string;
}) {
  const { next, ranked } = props.explained;
  const test = next.find(({ observable }) => observable === props.chosen) ?? next[0];
  const observable = OBSERVABLES.find(({ id }) => id === test?.observable);
  if (test === undefined || observable === undefined)
    return (
      <section className="question" aria-labelledby="next-test">
        <h2 id="next-test">Nothing left to ask would tell more</h2>
        <p>Try the first cause's cure, read a run again, and compare.</p>
      </section>
    );
  return (
    <section className="question" aria-labelledby="next-test">
      <p className="soft">
        {ranked.decided ? 'To be surer still' : 'The next test'}: {test.minutes} min
        {test.gate === 'none' ? ', only looking' : ''}
        {test.observable === next[0]?.observable ? ', the most it tells for its time' : ''}
      </p>
      <h2 id="next-test">{test.question}</h2>
      <p>{test.how}</p>
      <GateSteps gate={test.gate} />
      <p>
        <Link className="target" href={props.guide(test.observable)}>
          Do this test, step by step
        </Link>
      </p>
      <AnswerButtons
        observable={observable}
        onAnswer={(outcome) => props.onAnswer(observable.id, outcome)}
        onCannot={() => props.onCannot(observable.id)}
        busy={props.busy}
      />
      {test.separates && (
        <p>
          It tells {test.separates[0]} from {test.separates[1]}.
        </p>
      )}
      {next.length > 1 && (
        <details>
          <summary>Other tests</summary>
          <ul className="plain others">
            {next
              .filter((one) => one !== test)
              .slice(0, OTHERS)
              .map((one) => (
                <li key={one.observable}>
                  <button type="button" className="other" onClick={() => props.onChoose(one.observable)}>
                    {one.question} <span className="soft">({one.minutes} min)</span>
                  </button>
                </li>
              ))}
          </ul>
        </details>
      )}
    </section>
  );
}
