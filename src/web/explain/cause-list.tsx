import { Link } from 'wouter';
import { FAULTS, OBSERVABLES, type Observable } from '../../core/causes/index.ts';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { settleHref } from '../settle/settle-address.ts';
import { beliefWords, percent } from './belief-words.ts';
import { type ExplainState, guideHref } from './explain-address.ts';
import { GateSteps } from './gate-steps.tsx';
import { Length } from './length.tsx';
import { settleFor } from './settle-for.ts';

/** Causes that stand with their cures; the others are named in one list below. */
const OPEN = 6;

export function CauseList({ explained, state }: { explained: Explained; state: ExplainState }) {
  const { causes, two_faults, outside, likeliest_pairs } = explained.ranked;
  const rest = causes.slice(OPEN);
  const name = (id: string) => FAULTS.find((fault) => fault.id === id)?.name ?? id;
  return (
    <section aria-labelledby="causes">
      <h2 id="causes">Causes, most likely first</h2>
      <ol className="causes">
        {causes.slice(0, OPEN).map(({ fault, name: words, probability, present }) => (
          <li key={fault}>
            <Row words={words} probability={probability} />
            <details>
              <summary>What to do about it</summary>
              <Cure
                fault={fault}
                present={present}
                settle={settleHref(settleFor(state, explained, fault))}
                test={testFor(fault, state)}
                guide={(test) => guideHref(state, test)}
              />
            </details>
          </li>
        ))}
      </ol>
      <ul className="causes plain">
        <li>
          <Row words="two faults at once" probability={two_faults} />
          <details>
            <summary>Which pairs</summary>
            <ul>
              {likeliest_pairs.map(({ faults: [a, b], probability }) => (
                <li key={`${a} ${b}`}>
                  {name(a)} and {name(b)}: {percent(probability)}
                </li>
              ))}
            </ul>
          </details>
        </li>
        <li>
          <Row words="something not in the catalogue" probability={outside} />
        </li>
        <li>
          <Row
            words={`the other ${rest.length} causes together`}
            probability={rest.reduce((sum, { probability }) => sum + probability, 0)}
          />
          <details>
            <summary>List them</summary>
            <ol start={OPEN + 1}>
              {rest.map(({ fault, name: words, probability }) => (
                <li key={fault}>
                  {words}: {percent(probability)}
                </li>
              ))}
            </ol>
          </details>
        </li>
      </ul>
      <p className="soft">
        All of these add up to 100 %. The weights are judgement; tests on invented cases measure the
        reasoning, they cannot prove the catalogue right.
      </p>
    </section>
  );
}

function Row({ words, probability }: { words: string; probability: number }) {
  return (
    <>
      <div className="cause">
        <strong>{words}</strong>
        <span>
          <span className="number">{percent(probability)}</span> {beliefWords(probability)}
        </span>
      </div>
      <Length share={probability} />
    </>
  );
}

/** The first test that tells this cause from a look-alike and was not answered yet. */
function testFor(id: string, { answers, cannot }: ExplainState) {
  const known = new Set([...answers.map(({ observable }) => observable), ...cannot]);
  const fault = FAULTS.find((one) => one.id === id);
  const found = fault?.lookAlikes.find(({ separatedBy }) => !known.has(separatedBy));
  return OBSERVABLES.find((one) => one.id === found?.separatedBy);
}

interface CureProps {
  fault: string;
  present: number;
  /** Addresses: of a settle session begun for this cause, and of the guide at a test. */
  settle: string;
  test: Observable | undefined;
  guide: (test: string) => string;
}

function Cure({ fault: id, present, settle, test, guide }: CureProps) {
  const fault = FAULTS.find((one) => one.id === id);
  if (fault === undefined) return null;
  return (
    <>
      <p>
        {percent(present)} with or without another fault. {fault.numbers}
      </p>
      <ol>
        {fault.actions.map(({ words, gate }) => (
          <li key={words}>
            {words}
            <GateSteps gate={gate} />
          </li>
        ))}
      </ol>
      {fault.settle === true && (
        <p>
          The cure is a voltage or a position:{' '}
          <Link className="target" href={settle}>
            Start settling
          </Link>
        </p>
      )}
      {test && (
        <p>
          To be sure of it:{' '}
          <Link className="target" href={guide(test.id)}>
            {test.question}
          </Link>
        </p>
      )}
      <p className="soft">
        {fault.lookAlikes
          .map(
            ({ fault: other, words }) =>
              `Not ${FAULTS.find((one) => one.id === other)?.name ?? other}: ${words}.`,
          )
          .join(' ')}{' '}
        Sources: {fault.sources.join('; ')}.
      </p>
    </>
  );
}
