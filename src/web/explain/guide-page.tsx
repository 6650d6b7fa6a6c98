/**
 * The guide for the night: one step at a time in large print. Before each touch the safe state is ticked off line by line;
 * the stop rule is one press away on every step; what was done is logged with its time.
 */
import './explain.css';
import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useEffect, useRef, useState } from 'react';
import { Link } from 'wouter';
import {
  type Action,
  FAULTS,
  GATE_STEPS,
  LOCAL_RULES,
  OBSERVABLES,
  type SafetyGate,
  STOP_RULE,
} from '../../core/causes/index.ts';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { AnswerButtons } from './answer-buttons.tsx';
import { beliefWords, percent } from './belief-words.ts';
import { searchOf, withAnswer, withCannot } from './explain-address.ts';
import { logLine, readLog, writeLog } from './guide-log.ts';
import { GuideLog } from './guide-log-part.tsx';
import { saveGuide } from './save-guide.ts';
import { useExplain } from './use-explain.ts';

type Step =
  | { kind: 'begin' }
  | { kind: 'ask' }
  | { kind: 'cure'; fault: string; action: number }
  | { kind: 'stopped' }
  | { kind: 'end'; cured: boolean };

/** Actions tried without help before the guide stops. */
const FAILED_MOST = 2;
/** A cause below this is asked about, not cured. Judgement. */
const CURE_FROM = 0.3;

export function GuidePage() {
  const { state, explained, change } = useExplain();
  const [step, setStep] = useState<Step>({ kind: 'begin' });
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
  const back = `/explain${searchOf(state)}`;
  if (explained.isError) return <p className="fault">{explained.error.message}</p>;
  if (!data) return <p role="status">Asking the catalogue.</p>;

  const first = data.ranked.causes[0];
  const cure = (fault: string) => setStep({ kind: 'cure', fault, action: 0 });
  return (
    <div className="guide">
      <p>
        <Link className="target" href={back}>
          Back to all causes
        </Link>
        {data.invented && <span className="stamp">INVENTED DATA</span>}
      </p>
      {step.kind === 'begin' && (
        <Screen title="One step at a time">
          <p className="first">{data.ranked.sentence}</p>
          <p className="caution">
            <strong>Stop rule.</strong> {STOP_RULE}
          </p>
          <p>{LOCAL_RULES}</p>
          <div className="answers">
            <Button onClick={() => setStep({ kind: 'ask' })}>Begin</Button>
          </div>
        </Screen>
      )}
      {step.kind === 'ask' && (
        <Ask
          explained={data}
          busy={explained.isPlaceholderData}
          onAnswer={(id, outcome) => {
            done(answerLine(id, outcome));
            change(withAnswer(state, id, outcome));
          }}
          onCannot={(id) => {
            done(`${questionOf(id)} Cannot see.`);
            change(withCannot(state, id));
          }}
          onGate={done}
          {...(first === undefined ? {} : { onCure: () => cure(first.fault) })}
        />
      )}
      {step.kind === 'cure' && (
        <Cure
          explained={data}
          fault={step.fault}
          number={step.action}
          onGate={done}
          onHelped={(words) => {
            done(`${words} It helped.`);
            setStep({ kind: 'end', cured: true });
          }}
          onNoHelp={(words) => {
            done(`${words} No help.`);
            const times = failed + 1;
            setFailed(times);
            const actions = FAULTS.find(({ id }) => id === step.fault)?.actions.length ?? 0;
            if (times >= FAILED_MOST) setStep({ kind: 'end', cured: false });
            else if (step.action + 1 < actions) setStep({ ...step, action: step.action + 1 });
            else setStep({ kind: 'ask' });
          }}
          onNext={(words) => {
            done(words);
            const actions = FAULTS.find(({ id }) => id === step.fault)?.actions.length ?? 0;
            setStep(step.action + 1 < actions ? { ...step, action: step.action + 1 } : { kind: 'ask' });
          }}
          onBack={() => setStep({ kind: 'ask' })}
        />
      )}
      {step.kind === 'stopped' && (
        <Screen title="Stopped">
          <p className="first">High voltage off. Hands away. Call a trained person.</p>
          <p className="caution">{STOP_RULE}</p>
          <p>{LOCAL_RULES}</p>
          <div className="answers">
            <Button variant="default" onClick={() => setStep({ kind: 'begin' })}>
              Begin again
            </Button>
          </div>
        </Screen>
      )}
      {step.kind === 'end' && (
        <Screen title={step.cured ? 'It helped: now prove it' : 'Two attempts without help: stop here'}>
          {step.cured ? (
            <>
              <p className="first">Let it run for ten minutes, then read that run.</p>
              <div className="answers">
                <Button component={Link} href="/read">
                  Read the next run
                </Button>
              </div>
            </>
          ) : (
            <>
              <p className="first">
                High voltage off. Leave it, write down what was done, and call a trained person.
              </p>
              <div className="answers">
                <Button
                  variant="default"
                  onClick={() => {
                    setFailed(0);
                    setStep({ kind: 'ask' });
                  }}
                >
                  Only look on, touch nothing
                </Button>
              </div>
            </>
          )}
        </Screen>
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

function Screen({ title, children }: { title: string; children: React.ReactNode }) {
  const heading = useRef<HTMLHeadingElement>(null);
  // Each step moves the reader's place to its heading, so that a screen reader and a tired eye begin there.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the title is the trigger
  useEffect(() => {
    heading.current?.focus();
    heading.current?.scrollIntoView({ block: 'nearest' });
  }, [title]);
  return (
    <section className="guide-step">
      <h1 tabIndex={-1} ref={heading}>
        {title}
      </h1>
      {children}
    </section>
  );
}

function Ask(props: {
  explained: Explained;
  onAnswer: (observable: string, outcome: string) => void;
  onCannot: (observable: string) => void;
  onGate: (what: string) => void;
  onCure?: () => void;
  busy: boolean;
}) {
  const { next, ranked } = props.explained;
  const test = next[0];
  const observable = OBSERVABLES.find(({ id }) => id === test?.observable);
  const first = ranked.causes[0];
  const known =
    first !== undefined && (ranked.decided || first.probability >= CURE_FROM || test === undefined);
  const cure = props.onCure && known && (
    <p>
      {first.name}: {percent(first.probability)}, {beliefWords(first.probability)}.{' '}
      <Button variant={ranked.decided ? 'filled' : 'default'} onClick={props.onCure}>
        Try its cure
      </Button>
    </p>
  );
  if (test === undefined || observable === undefined)
    return (
      <Screen title="Nothing left to ask would tell more">
        <p className="first">{ranked.sentence}</p>
        {cure}
      </Screen>
    );
  return (
    <Gated key={test.observable} gate={test.gate} onDone={props.onGate}>
      <Screen title={test.question}>
        <p className="first">{test.how}</p>
        <p>{test.minutes} min</p>
        <AnswerButtons
          observable={observable}
          onAnswer={(outcome) => props.onAnswer(observable.id, outcome)}
          onCannot={() => props.onCannot(observable.id)}
          busy={props.busy}
        />
        {cure}
      </Screen>
    </Gated>
  );
}

function Cure(props: {
  explained: Explained;
  fault: string;
  number: number;
  onGate: (what: string) => void;
  onHelped: (words: string) => void;
  onNoHelp: (words: string) => void;
  /** To the next step, whether done or left out. */
  onNext: (words: string) => void;
  onBack: () => void;
}) {
  const fault = FAULTS.find(({ id }) => id === props.fault);
  const action: Action | undefined = fault?.actions[props.number];
  if (fault === undefined || action === undefined) return null;
  return (
    <Gated key={`${fault.id} ${props.number}`} gate={action.gate} onDone={props.onGate}>
      <Screen title={action.words}>
        <p>
          Step {props.number + 1} of {fault.actions.length} for {fault.name}. {fault.numbers}
        </p>
        {fault.settle === true && (
          <p>
            <Link className="target" href="/settle">
              Start settling
            </Link>
          </p>
        )}
        <div className="answers">
          <Button onClick={() => props.onHelped(action.words)}>Done, it helped</Button>
          <Button variant="default" onClick={() => props.onNoHelp(action.words)}>
            Done, no help
          </Button>
          <Button variant="default" onClick={() => props.onNext(`${action.words} Done.`)}>
            Done, on to the next step
          </Button>
          <Button variant="default" onClick={() => props.onNext(`${action.words} Not done.`)}>
            Not this one
          </Button>
        </div>
        <Button variant="default" onClick={props.onBack}>
          Back to the questions
        </Button>
      </Screen>
    </Gated>
  );
}

/** What must be safe first, one line at a time; the touch shows only after the last. */
function Gated(props: { gate: SafetyGate; onDone: (what: string) => void; children: React.ReactNode }) {
  const steps = GATE_STEPS[props.gate];
  const [ticked, setTicked] = useState(0);
  const line = steps[ticked];
  if (line === undefined) return props.children;
  return (
    <Screen title={line}>
      <p>
        Before you touch anything: {ticked + 1} of {steps.length}.
      </p>
      <div className="answers">
        <Button
          onClick={() => {
            props.onDone(line);
            setTicked(ticked + 1);
          }}
        >
          Done
        </Button>
      </div>
      <p className="caution">{LOCAL_RULES}</p>
    </Screen>
  );
}

function questionOf(id: string): string {
  return OBSERVABLES.find((one) => one.id === id)?.question ?? id;
}

function answerLine(id: string, outcome: string): string {
  const known = OBSERVABLES.find((one) => one.id === id);
  return `${questionOf(id)} ${known?.outcomes.find((one) => one.id === outcome)?.words ?? outcome}.`;
}
