/**
 * The guide for the night: one step at a time in large print. Before each touch the safe state is ticked off line by line;
 * the stop rule is one press away on every step; what was done is logged with its time. With `test=` in its address it opens
 * at that test and goes back to the causes with the answer.
 */
import './explain.css';
import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useState } from 'react';
import { Link, useLocation, useSearch } from 'wouter';
import { OBSERVABLES } from '../../core/causes/index.ts';
import { settleHref } from '../settle/settle-address.ts';
import { answerLine, questionOf } from './answer-words.ts';
import { type ExplainState, explanationHref, withAnswer, withCannot } from './explain-address.ts';
import { Ask } from './guide-ask.tsx';
import { actionsOf, Cure } from './guide-cure.tsx';
import { Begin, Ended, Stopped } from './guide-ends.tsx';
import { logLine, readLog, writeLog } from './guide-log.ts';
import { GuideLog } from './guide-log-part.tsx';
import { saveGuide } from './save-guide.ts';
import { settleFor } from './settle-for.ts';
import { useExplain } from './use-explain.ts';

type Step =
  | { kind: 'begin' }
  | { kind: 'ask' }
  | { kind: 'cure'; fault: string; action: number }
  | { kind: 'stopped' }
  | { kind: 'end'; cured: boolean };

/** Actions tried without help before the guide stops. */
const FAILED_MOST = 2;

export function GuidePage() {
  const { state, explained, change } = useExplain();
  const [, go] = useLocation();
  const test = chosenTest(useSearch());
  const [step, setStep] = useState<Step>({ kind: test === undefined ? 'begin' : 'ask' });
  const [failed, setFailed] = useState(0);
  const [log, setLog] = useState<string[]>(() => readLog(state.reading));
  useDocumentTitle('Guide · Steadycone');
  const data = explained.data;
  const done = (what: string) => {
    const lines = [...readLog(state.reading), logLine(what, new Date())];
    writeLog(state.reading, lines);
    setLog(lines);
  };
  const stop = () => {
    done('Stopped by the stop rule.');
    setStep({ kind: 'stopped' });
  };
  const answered = (next: ExplainState, line: string) => {
    done(line);
    if (test === undefined) change(next);
    else go(explanationHref(next));
  };
  if (explained.isError) return <p className="fault">{explained.error.message}</p>;
  if (!data) return <p role="status">Asking the catalogue.</p>;

  const first = data.ranked.causes[0];
  const next = (fault: string, action: number): Step =>
    action + 1 < actionsOf(fault) ? { kind: 'cure', fault, action: action + 1 } : { kind: 'ask' };
  return (
    <div className="guide">
      <p>
        <Link className="target" href={explanationHref(state)}>
          Back to all causes
        </Link>
        {data.invented && <span className="stamp">INVENTED DATA</span>}
      </p>
      {step.kind === 'begin' && (
        <Begin sentence={data.ranked.sentence} onBegin={() => setStep({ kind: 'ask' })} />
      )}
      {step.kind === 'ask' && (
        <Ask
          explained={data}
          chosen={test}
          busy={explained.isPlaceholderData}
          onAnswer={(id, outcome) => answered(withAnswer(state, id, outcome), `${answerLine(id, outcome)}.`)}
          onCannot={(id) => answered(withCannot(state, id), `${questionOf(id)} Cannot see.`)}
          onGate={done}
          {...(first === undefined
            ? {}
            : { onCure: () => setStep({ kind: 'cure', fault: first.fault, action: 0 }) })}
        />
      )}
      {step.kind === 'cure' && (
        <Cure
          fault={step.fault}
          number={step.action}
          settle={settleHref(settleFor(state, data, step.fault))}
          onGate={done}
          onHelped={(words) => {
            done(`${words} It helped.`);
            setStep({ kind: 'end', cured: true });
          }}
          onNoHelp={(words) => {
            done(`${words} No help.`);
            setFailed(failed + 1);
            setStep(
              failed + 1 >= FAILED_MOST ? { kind: 'end', cured: false } : next(step.fault, step.action),
            );
          }}
          onNext={(words) => {
            done(words);
            setStep(next(step.fault, step.action));
          }}
          onBack={() => setStep({ kind: 'ask' })}
        />
      )}
      {step.kind === 'stopped' && <Stopped onAgain={() => setStep({ kind: 'begin' })} />}
      {step.kind === 'end' && (
        <Ended
          cured={step.cured}
          onLook={() => {
            setFailed(0);
            setStep({ kind: 'ask' });
          }}
        />
      )}
      {step.kind !== 'stopped' && (
        <Button className="stop" variant="default" onClick={stop}>
          Stop now
        </Button>
      )}
      <GuideLog
        lines={log}
        reading={state.reading}
        onEmpty={() => {
          writeLog(state.reading, []);
          setLog([]);
        }}
        onSave={() => saveGuide(data, state, log)}
      />
    </div>
  );
}

/** A mistyped test is none. */
function chosenTest(search: string): string | undefined {
  const id = new URLSearchParams(search).get('test');
  return OBSERVABLES.some((one) => one.id === id) ? (id ?? undefined) : undefined;
}
