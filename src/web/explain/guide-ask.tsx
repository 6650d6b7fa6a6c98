/** The guide's question: the test that tells most, or the one that was chosen; its answer is evidence. */
import { Button } from '@mantine/core';
import { OBSERVABLES } from '../../core/causes/index.ts';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { AnswerButtons } from './answer-buttons.tsx';
import { beliefWords, percent } from './belief-words.ts';
import { Gated, Screen } from './guide-screen.tsx';

/** A cause below this is asked about, not cured. Judgement. */
const CURE_FROM = 0.3;

export interface AskProps {
  explained: Explained;
  /** The test that was chosen; without one the next that tells most. */
  chosen?: string | undefined;
  onAnswer: (observable: string, outcome: string) => void;
  onCannot: (observable: string) => void;
  onGate: (what: string) => void;
  onCure?: () => void;
  busy: boolean;
}

export function Ask(props: AskProps) {
  const { next, ranked } = props.explained;
  const observable = OBSERVABLES.find(({ id }) => id === (props.chosen ?? next[0]?.observable));
  const first = ranked.causes[0];
  const known =
    first !== undefined && (ranked.decided || first.probability >= CURE_FROM || observable === undefined);
  const cure = props.onCure && known && props.chosen === undefined && (
    <p>
      {first.name}: {percent(first.probability)}, {beliefWords(first.probability)}.{' '}
      <Button variant={ranked.decided ? 'filled' : 'default'} onClick={props.onCure}>
        Try its cure
      </Button>
    </p>
  );
  if (observable === undefined)
    return (
      <Screen title="Nothing left to ask would tell more">
        <p className="first">{ranked.sentence}</p>
        {cure}
      </Screen>
    );
  return (
    <Gated key={observable.id} gate={observable.gate} onDone={props.onGate}>
      <Screen title={observable.question}>
        <p className="first">{observable.how}</p>
        <p>{observable.minutes} min</p>
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
